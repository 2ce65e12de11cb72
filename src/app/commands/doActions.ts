import type { StoreApi } from 'zustand/vanilla'
import type { Id, Plan, TrackEndName, TurnoutLeg } from '../../core/plan/types.ts'
import { selectedTrack } from '../../store/selection.ts'
import type { ToolName } from '../../store/types.ts'
import type { JoinEnd } from '../../core/pipeline/index.ts'
import { hasTwoLegs } from '../../words/turnoutText.ts'
import type { Stores } from '../context.ts'
import type { DeskState, LineAct } from '../desk.ts'
import { fitBegin } from '../fit/survey.ts'
import { canDrawOn, drawOnBegin } from '../lineActs/drawOn.ts'
import { stubOf } from '../lineActs/stub.ts'
import { makerBegin } from '../makers/makerSteps.ts'
import { kindWords, makerKinds } from '../makers/makerText.ts'
import { cornerAdd, longestSide } from '../particulars/cornerAdd.ts'
import { pushToggle } from '../running/runningActs.ts'
import { severalActions } from '../several/severalActions.ts'
import { trackAddInView } from '../trackAdd.ts'
import { trackAtLeg, trackStartFromLeg, turnoutAddOn } from '../turnoutAdd.ts'
import type { Action } from './action.ts'
import { benchActions } from './benchActions.ts'
import { needs } from './needs.ts'
import { selectionRemove } from './selectionRemove.ts'

const toolWords: readonly { readonly tool: ToolName; readonly words: string; readonly also?: string }[] = [
  { tool: 'select', words: 'Select and move' },
  { tool: 'benchwork', words: 'Draw benchwork' },
  { tool: 'hole', words: 'Cut a hole' },
  { tool: 'wall', words: 'Draw walls' },
  { tool: 'opening', words: 'Make a door, passage or window' },
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

/** What is drawn, laid and made, and what is done to what is selected. */
export function doActions(stores: Stores, desk: StoreApi<DeskState>): readonly Action[] {
  const session = stores.session.getState()
  const { plan } = stores.plan.getState()
  const { selection } = session
  const trackId = selectedTrack(selection)
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
  const { network } = stores.derived.getState().derived
  const beside: LineAct | null = track !== null && stubOf(network, track) !== null ? { kind: 'beside', track } : null
  const drawOn = (end: TrackEndName): Action => {
    const canGoOn = track !== null && canDrawOn(network.plan, track, end)
    return {
      id: end === 'end' ? 'draw-on' : 'draw-on-start',
      group: 'Do',
      words: `Draw on from the ${end} of this track`,
      needs: needs.openTrack,
      isPossible: canGoOn,
      run: () => (canGoOn ? drawOnBegin(stores, desk, track, end) : undefined),
    }
  }
  return [
    act('beside', 'Lay a parallel from the leg of this track', needs.stub, beside),
    drawOn('end'),
    drawOn('start'),
    act('join', 'Join this end to another', needs.end, from === null ? null : { kind: 'join', from }),
    act('parallel', 'Lay a parallel beside this track', needs.track, ofTrack('parallel')),
    act('ease', 'Ease this line', needs.track, ofTrack('ease')),
    act('shape', 'Cut, lengthen or turn round this track', needs.track, ofTrack('shape')),
  ]
}
