import type { StoreApi } from 'zustand/vanilla'
import type { Id, Plan, TurnoutLeg } from '../../core/plan/types.ts'
import type { Prefs, ToolName } from '../../store/types.ts'
import type { Stores } from '../context.ts'
import type { JoinEnd } from '../../core/pipeline/index.ts'
import type { DeskState, LineAct } from '../desk.ts'
import { drawingChoose } from '../file/fileDropped.ts'
import { demoLoad, planChoose, planSave, planTakeBack } from '../file/planFile.ts'
import { canSameFile, sameFileName, sameFileSave } from '../file/sameFile.ts'
import { longestSide, cornerAdd } from '../particulars/cornerAdd.ts'
import { fitBegin } from '../fit/survey.ts'
import { makerBegin } from '../makers/makerSteps.ts'
import { kindWords, makerKinds } from '../makers/makerText.ts'
import { planBoxNow } from '../planBox.ts'
import { bandsToggle, pushToggle } from '../running/runningActs.ts'
import { trackAddInView } from '../trackAdd.ts'
import { trackAtLeg, trackStartFromLeg, turnoutAddOn } from '../turnoutAdd.ts'
import { viewportFit } from '../viewportShow.ts'
import { lowerFirst } from '../../words/names.ts'
import { hasTwoLegs } from '../../words/turnoutText.ts'
import { severalActions } from '../several/severalActions.ts'
import { benchActions } from './benchActions.ts'
import { goActions } from './goActions.ts'
import { keysOfAction } from './keyMap.ts'
import { sightActions, sightKindActions } from '../sight/sightActions.ts'
import { needs } from './needs.ts'
import { tradeWords } from './tradeWords.ts'
import { selectionRemove } from './selectionRemove.ts'

/** One thing that can be done, in words. The menus, the finder and the keys all read this one list. */
export interface Action {
  readonly id: string
  readonly group: 'Plan' | 'Steps' | 'Do' | 'Go to' | 'Look'
  readonly words: string
  /** What it makes, where its words do not say; shown. */
  readonly about?: string
  /** What else it is called, for the finder; not shown. */
  readonly also?: string
  /** The keys for it, as they are printed on a keyboard. */
  readonly keys?: string
  readonly isPossible: boolean
  /** It goes to a thing of this plan, so it has no keys of its own. */
  readonly isRecord?: true
  /** What has to be done first where it is not possible; the finder says so. Without it such an action is left out there. */
  readonly needs?: string
  run(): void
}

const toolWords: readonly { readonly tool: ToolName; readonly words: string; readonly also?: string }[] = [
  { tool: 'select', words: 'Select and move' },
  { tool: 'benchwork', words: 'Draw benchwork' },
  { tool: 'hole', words: 'Cut a hole' },
  { tool: 'wall', words: 'Draw walls' },
  { tool: 'opening', words: 'Make a door or passage' },
  { tool: 'hatch', words: 'Draw a hatch' },
  { tool: 'joist', words: 'Draw a joist or riser' },
  { tool: 'track', words: 'Lay a centreline' },
  { tool: 'portal', words: 'Set a portal over a track' },
  { tool: 'turnout', words: 'Place a turnout' },
  { tool: 'measure', words: 'Measure', also: 'distance along track radius angle clearance centres ruler dimension' },
  { tool: 'guide', words: 'Lay a guide', also: 'construction line snap' },
]

const toolStage = {
  benchwork: 'room',
  hole: 'room',
  wall: 'room',
  opening: 'room',
  hatch: 'room',
  joist: 'room',
  portal: 'room',
  track: 'line',
  turnout: 'turnouts',
  survey: 'line',
  measure: null,
  guide: null,
  select: null,
} as const

/** Everything that can be done now; what cannot be is listed too and says so. */
export function actionsNow(stores: Stores, desk: StoreApi<DeskState>): readonly Action[] {
  const all = [
    ...planActions(stores, desk),
    ...stepActions(stores, desk),
    ...doActions(stores, desk),
    ...goActions(stores, desk),
    ...lookActions(stores, desk),
    ...sightKindActions(stores),
  ]
  return withKeys(stores, all.map(withTradeWords))
}

function withTradeWords(action: Action): Action {
  const words = [action.also, tradeWords[action.id]].filter((text) => text !== undefined)
  return words.length === 0 ? action : { ...action, also: words.join(' ') }
}

/** Each with the keys that it has now. */
export function withKeys(stores: Stores, actions: readonly Action[]): readonly Action[] {
  const own = stores.prefs.getState().keys
  return actions.map((action) => {
    const keys = keysOfAction(action.id, own)
    return keys === undefined ? action : { ...action, keys }
  })
}

export function planActions(stores: Stores, desk: StoreApi<DeskState>): readonly Action[] {
  const { laidAside } = desk.getState()
  const fileName = sameFileName(stores)
  return [
    { id: 'new', group: 'Plan', words: 'New room…', isPossible: true, run: () => desk.getState().set({ dialog: 'newRoom' }) },
    {
      id: 'shelf',
      group: 'Plan',
      words: 'Plans in this browser…',
      also: 'shelf several rename duplicate delete versions compare earlier backup',
      isPossible: true,
      run: () => desk.getState().set({ dialog: 'shelf' }),
    },
    { id: 'open', group: 'Plan', words: 'Open a plan file…', isPossible: true, run: () => planChoose(stores, desk) },
    { id: 'save', group: 'Plan', words: 'Save plan to a file', isPossible: true, run: () => planSave(stores) },
    {
      id: 'same-file',
      group: 'Plan',
      words: fileName === null ? 'Save into a file of yours…' : `Save again into ${fileName}`,
      also: 'overwrite same file',
      isPossible: canSameFile(),
      needs: 'a browser that lets pages write into files',
      run: () => void sameFileSave(stores),
    },
    {
      id: 'share',
      group: 'Plan',
      words: 'The plan as a link…',
      also: 'share send URL address',
      isPossible: true,
      run: () => desk.getState().set({ dialog: 'share' }),
    },
    {
      id: 'import',
      group: 'Plan',
      words: 'Take in a drawing or lines…',
      also: 'import DXF LandXML IFC',
      isPossible: true,
      run: () => drawingChoose(desk),
    },
    {
      id: 'export',
      group: 'Plan',
      words: 'Save for other programs…',
      also: 'export DXF SVG LandXML IFC drawing CAD',
      isPossible: true,
      run: () => desk.getState().set({ dialog: 'export' }),
    },
    {
      id: 'print-plan',
      group: 'Plan',
      words: 'Print the plan on one page…',
      also: 'paper picture overview print view',
      isPossible: true,
      run: () => void import('../print/planPrint.ts').then(({ planPrint }) => planPrint(stores)),
    },
    {
      id: 'jigs',
      group: 'Plan',
      words: 'Jigs to print or cut…',
      also: 'STL 3MF plastic printer solid template gauge fixture laser',
      isPossible: true,
      run: () => desk.getState().set({ dialog: 'jigs' }),
    },
    { id: 'demo', group: 'Plan', words: 'Load the demo railway', isPossible: true, run: () => void demoLoad(stores, desk) },
    {
      id: 'back',
      group: 'Plan',
      words: 'Take back the plan from before',
      isPossible: laidAside !== null,
      run: () => planTakeBack(stores, desk),
    },
  ]
}

export function stepActions(stores: Stores, desk: StoreApi<DeskState>): readonly Action[] {
  const { undoStack, redoStack, undo, redo } = stores.plan.getState()
  const last = undoStack.at(-1)
  const next = redoStack.at(-1)
  return [
    {
      id: 'undo',
      group: 'Steps',
      words: last === undefined ? 'Undo' : `Undo: ${lowerFirst(last.label)}`,
      isPossible: last !== undefined,
      run: () => void undo(),
    },
    {
      id: 'redo',
      group: 'Steps',
      words: next === undefined ? 'Redo' : `Redo: ${lowerFirst(next.label)}`,
      isPossible: next !== undefined,
      run: () => void redo(),
    },
    {
      id: 'steps',
      group: 'Steps',
      words: 'Steps taken…',
      also: 'history, undo, redo, back, versions',
      isPossible: true,
      run: () => desk.getState().set({ dialog: 'steps' }),
    },
  ]
}

function doActions(stores: Stores, desk: StoreApi<DeskState>): readonly Action[] {
  const session = stores.session.getState()
  const { plan } = stores.plan.getState()
  const { selection } = session
  const trackId =
    selection.kind === 'corner' || selection.kind === 'trackEnd'
      ? selection.track
      : selection.kind === 'record' && selection.table === 'tracks'
        ? selection.id
        : null
  const track = trackId === null ? undefined : plan.tracks[trackId]
  const turnoutId = selection.kind === 'record' && selection.table === 'turnouts' ? selection.id : null
  const tools = toolWords.map(
    ({ tool, words, also }): Action => ({
      id: `tool-${tool}`,
      group: 'Do',
      words,
      ...(also === undefined ? {} : { also }),
      isPossible: true,
      run: () => {
        const stage = toolStage[tool]
        if (stage !== null) session.setStage(stage)
        session.setTool(tool)
      },
    }),
  )
  return [
    ...tools,
    { id: 'track-add', group: 'Do', words: 'Add a track in the middle of the view', isPossible: true, run: () => trackAddInView(stores) },
    {
      id: 'corner-add',
      group: 'Do',
      words: 'Add a corner to this track',
      needs: needs.track,
      isPossible: track !== undefined,
      run: () => (track === undefined ? undefined : cornerAdd(stores, track, longestSide(stores, track))),
    },
    {
      id: 'turnout-add',
      group: 'Do',
      words: 'Place a turnout on this track',
      needs: needs.track,
      isPossible: track !== undefined,
      run: () => (track === undefined ? undefined : turnoutAddOn(stores, track)),
    },
    ...lineActs(stores, desk, trackId, turnoutId),
    ...benchActions(stores, desk, trackId),
    {
      id: 'leg',
      group: 'Do',
      words: 'Start a track from this leg',
      needs: needs.turnout,
      isPossible: turnoutId !== null,
      run: () => (turnoutId === null ? undefined : trackStartFromLeg(stores, turnoutId, 'diverging')),
    },
    {
      id: 'fit',
      group: 'Do',
      words: 'Fit a line to measured points',
      also: 'survey, as built, existing track, CSV, residuals',
      isPossible: true,
      run: () => fitBegin(stores, desk),
    },
    {
      id: 'push',
      group: 'Do',
      words: desk.getState().push === null ? 'Push a car along a track' : 'Put the car away',
      also: 'train, coupled cars, coupler angle, tightest gap, run',
      needs: needs.anyTrack,
      isPossible: Object.keys(plan.tracks).length > 0,
      run: () => pushToggle(stores, desk),
    },
    ...makerKinds.map(
      (kind): Action => ({
        id: `maker-${kind}`,
        group: 'Do',
        words: `Make a ${kindWords[kind].word}`,
        about: kindWords[kind].about,
        needs: needs.anyTrack,
        isPossible: Object.keys(plan.tracks).length > 0,
        run: () => makerBegin(stores, desk, kind),
      }),
    ),
    ...severalActions(stores),
    {
      id: 'remove',
      group: 'Do',
      words: 'Take the selection out',
      isPossible: selection.kind !== 'none',
      run: () => selectionRemove(stores),
    },
    {
      id: 'sheets',
      group: 'Do',
      words: 'Print sheets',
      isPossible: true,
      run: () => {
        desk.getState().set({ sheetSubject: null })
        session.setStage('sheets')
      },
    },
  ]
}

/** The leg that a join starts from: the one to the turnout's hand, the other where a track has that one already. */
function legToJoin(plan: Plan, turnout: Id): TurnoutLeg {
  const record = plan.turnouts[turnout]
  const isOther = record !== undefined && hasTwoLegs(record.kind) && trackAtLeg(plan.tracks, turnout, 'diverging') !== null
  return isOther ? 'other' : 'diverging'
}

/** What is done to a line in a panel of its own. */
function lineActs(stores: Stores, desk: StoreApi<DeskState>, track: Id | null, turnout: Id | null): readonly Action[] {
  const { selection } = stores.session.getState()
  const from: JoinEnd | null =
    turnout !== null
      ? { kind: 'leg', turnout, leg: legToJoin(stores.plan.getState().plan, turnout) }
      : selection.kind === 'trackEnd'
        ? { kind: 'trackEnd', track: selection.track, end: selection.end }
        : null
  const act = (id: string, words: string, first: string, lineAct: LineAct | null): Action => ({
    id,
    group: 'Do',
    words,
    needs: first,
    isPossible: lineAct !== null,
    run: () => desk.getState().set({ lineAct, drawer: 'particulars' }),
  })
  const ofTrack = (kind: 'parallel' | 'ease' | 'shape'): LineAct | null => (track === null ? null : { kind, track })
  return [
    act('join', 'Join this end to another', needs.end, from === null ? null : { kind: 'join', from }),
    act('parallel', 'Lay a parallel beside this track', needs.track, ofTrack('parallel')),
    act('ease', 'Ease this line', needs.track, ofTrack('ease')),
    act('shape', 'Cut, lengthen or turn round this track', needs.track, ofTrack('shape')),
  ]
}

export function lookActions(stores: Stores, desk: StoreApi<DeskState>): readonly Action[] {
  const { units, fraction, theme, setPrefs } = stores.prefs.getState()
  const set = (id: string, words: string, isNow: boolean, change: Partial<Prefs>): Action => ({
    id,
    group: 'Look',
    words,
    isPossible: !isNow,
    run: () => setPrefs(change),
  })
  return [
    {
      id: 'whole',
      group: 'Look',
      words: 'Show the whole plan',
      isPossible: planBoxNow(stores) !== null,
      run: () => {
        const box = planBoxNow(stores)
        if (box !== null) viewportFit(stores, box)
      },
    },
    {
      id: 'bands',
      group: 'Look',
      words: desk.getState().bands === null ? 'Show swept bands and clearances' : 'Hide swept bands and clearances',
      also: 'swept path, overhang, envelope, clearance trace, worst car',
      isPossible: true,
      run: () => bandsToggle(desk),
    },
    ...sightActions(stores, desk),
    set('units-imperial', 'Feet and inches', units === 'imperial', { units: 'imperial' }),
    set('units-metric', 'Millimetres', units === 'metric', { units: 'metric' }),
    ...([16, 32, 64] as const).map((under) => set(`fraction-${under}`, `Inches to 1/${under}`, fraction === under, { fraction: under })),
    set('theme-system', 'Light or dark as the system', theme === 'system', { theme: 'system' }),
    set('theme-light', 'Light', theme === 'light', { theme: 'light' }),
    set('theme-dark', 'Dark', theme === 'dark', { theme: 'dark' }),
    set('theme-contrast', 'More contrast', theme === 'contrast', { theme: 'contrast' }),
    {
      id: 'keys',
      group: 'Look',
      words: 'Keys…',
      isPossible: true,
      run: () => desk.getState().set({ dialog: 'keys' }),
    },
    {
      id: 'gallery',
      group: 'Look',
      words: 'Gallery of turnouts and crossings',
      about: 'every kind: wye, three-way, stub, diamond, slip, crossover, scissors, ladder, gauntlet, dual gauge',
      isPossible: true,
      run: () => desk.getState().set({ dialog: 'gallery' }),
    },
  ]
}
