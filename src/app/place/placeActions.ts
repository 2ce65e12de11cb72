import type { StoreApi } from 'zustand/vanilla'
import { boxUnion } from '../../core/geom/index.ts'
import type { Point } from '../../core/geom/types.ts'
import { recordFind } from '../../core/plan/index.ts'
import type { Plan } from '../../core/plan/types.ts'
import { hideablesOf } from '../../store/hidden.ts'
import { selectionMembers } from '../../store/selection.ts'
import type { Selection, ToolName } from '../../store/types.ts'
import { frameMiddle, type ToolHost } from '../../tools/index.ts'
import { selectionsAt } from '../../tools/select/under.ts'
import { cornerName, endName, recordName, upperFirst } from '../../words/names.ts'
import type { CanvasParts } from '../canvas/canvasContext.ts'
import { viewNow } from '../canvas/viewActs.ts'
import { planOfScreen, screenOfPlan, type ScreenPoint, type View } from '../canvas/viewport.ts'
import { actionsNow } from '../commands/actions.ts'
import type { Action } from '../commands/action.ts'
import type { Stores } from '../context.ts'
import type { DeskState } from '../desk.ts'
import { planBoxOfRecord } from '../places.ts'

/** What is done to what was chosen, most wanted first; what is not possible is left out. */
const forChosen: readonly string[] = [
  'corner-add',
  'turnout-add',
  'leg',
  'join',
  'parallel',
  'ease',
  'shape',
  'sheets',
  'choose-connected',
  'several-numbers',
  'copy',
  'lock',
  'remove',
]
/** Of these, what only tracks and what stands on them have. */
const ofTracks: readonly string[] = ['sheets', 'choose-connected']
const always: readonly string[] = ['undo', 'whole', 'sight', 'finder']

export interface PlaceActions {
  readonly place: ScreenPoint
  /** What they are about; null: nothing is chosen. */
  readonly name: string | null
  readonly chosen: readonly Action[]
  readonly here: readonly Action[]
  readonly others: readonly Action[]
  readonly always: readonly Action[]
}

/**
 * What can be done at a place; null: asked for by a key, so about what is chosen, or the middle of the canvas. What lies at the place is
 * chosen first, unless it is of what is chosen already. `reach`: how much wider than a pointer the hand reaches.
 */
export function placeActions(
  stores: Stores,
  desk: StoreApi<DeskState>,
  { host, live }: CanvasParts,
  asked: ScreenPoint | null,
  reach: number,
): PlaceActions {
  const view = viewNow(stores, live)
  const place = asked ?? chosenPlace(stores, view) ?? { left: view.size.width / 2, top: view.size.height / 2 }
  const at = planOfScreen(view, place)
  const session = stores.session.getState()
  const isSelecting = session.tool === 'select'
  const isPointed = isSelecting && asked !== null
  const under = isPointed ? selectionsUnder(stores, at, reach) : []
  const [first] = under
  if (isPointed && (first === undefined || !isAmong(first, session.selection))) session.select(first ?? { kind: 'none' })

  const { selection, hidden } = stores.session.getState()
  const { plan } = stores.plan.getState()
  const all = actionsNow(stores, desk)
  const these = (ids: readonly string[]): readonly Action[] =>
    ids.flatMap((id) => all.filter((action) => action.id === id && action.isPossible))
  const isTrackage = selectionMembers(selection).some(({ table }) => table === 'tracks' || table === 'turnouts' || table === 'crossings')
  const isAny = isSelecting && selection.kind !== 'none'
  const hiding = hideablesOf(selection)
    .filter((kind) => !hidden.includes(kind))
    .map((kind) => `sight-${kind}`)
  return {
    place,
    name: isAny ? selectionName(plan, selection) : null,
    chosen: isAny ? these([...forChosen.filter((id) => isTrackage || !ofTracks.includes(id)), ...hiding]) : [],
    here: isSelecting ? hereActions(stores, host, at) : toolActions(stores, host),
    others: under.filter((one) => !isAmong(one, selection)).map((one, i) => otherAction(stores, one, i)),
    always: these(always),
  }
}

function selectionsUnder(stores: Stores, at: Point, reach: number): readonly Selection[] {
  const { selection, viewport, hidden } = stores.session.getState()
  const { plan } = stores.plan.getState()
  const { derived } = stores.derived.getState()
  const { units } = stores.prefs.getState()
  return selectionsAt({ plan, derived, selection, hidden, units, pxPerMm: viewport.pxPerMm / reach }, at)
}

/** Whether all records of one selection are of the other. */
function isAmong(one: Selection, other: Selection): boolean {
  const members = selectionMembers(other)
  return selectionMembers(one).every(({ table, id }) => members.some((member) => member.table === table && member.id === id))
}

function selectionName(plan: Plan, selection: Selection): string {
  switch (selection.kind) {
    case 'none':
      return ''
    case 'record':
      return upperFirst(recordName(plan, selection.table, selection.id))
    case 'corner': {
      const track = recordFind(plan, 'tracks', selection.track) ?? undefined
      const index = track?.corners.findIndex(({ id }) => id === selection.corner) ?? 0
      return `${upperFirst(cornerName(track, index))} of ${recordName(plan, 'tracks', selection.track)}`
    }
    case 'trackEnd':
      return `${upperFirst(endName(selection.end))} of ${recordName(plan, 'tracks', selection.track)}`
    case 'ringPoint':
      return `Corner of ${recordName(plan, 'benchworks', selection.benchwork)}`
    case 'several':
      return `${selection.members.length} things`
  }
}

/** Tools that begin at the place. */
function hereActions(stores: Stores, host: ToolHost, at: Point): readonly Action[] {
  const begin = (tool: ToolName, words: string): Action => ({
    id: `here-${tool}`,
    group: 'Do',
    words,
    isPossible: true,
    run() {
      stores.session.getState().setTool(tool)
      const modifiers = { shift: false, alt: false, ctrl: false }
      for (const kind of ['pointerMove', 'pointerDown', 'pointerUp'] as const) host.send({ kind, at, modifiers })
    },
  })
  return [
    begin('track', 'Lay a centreline from here'),
    begin('measure', 'Measure from here'),
    begin('guide', 'Lay a guide from here'),
    begin('benchwork', 'Draw benchwork from here'),
  ]
}

/** What ends the drawing that is under way. */
function toolActions(stores: Stores, host: ToolHost): readonly Action[] {
  const offer = host.offer()
  const act = (id: string, words: string, isPossible: boolean, run: () => void): Action => ({ id, group: 'Do', words, isPossible, run })
  const points = offer.kind === 'chain' ? offer.points : 0
  return [
    act('done', 'Done', offer.kind === 'chain' && offer.canEnd, () => host.send({ kind: 'complete' })),
    act('back', 'Back one point', points > 0, () => host.send({ kind: 'key', key: 'Backspace', modifiers: { shift: false, alt: false } })),
    act('lay-down', 'Lay the tool down', true, () => stores.session.getState().setTool('select')),
  ].filter(({ isPossible }) => isPossible)
}

function otherAction(stores: Stores, selection: Selection, i: number): Action {
  return {
    id: `other-${i}`,
    group: 'Do',
    words: `Choose ${selectionName(stores.plan.getState().plan, selection)}`,
    isPossible: true,
    run: () => stores.session.getState().select(selection),
  }
}

/** The middle of what is chosen, where it is on the canvas. */
function chosenPlace(stores: Stores, view: View): ScreenPoint | null {
  const boxes = selectionMembers(stores.session.getState().selection).flatMap(({ table, id }) => planBoxOfRecord(stores, table, id) ?? [])
  const [first, ...rest] = boxes
  if (first === undefined) return null
  const place = screenOfPlan(view, frameMiddle(rest.reduce(boxUnion, first)))
  return place.left > 0 && place.top > 0 && place.left < view.size.width && place.top < view.size.height ? place : null
}
