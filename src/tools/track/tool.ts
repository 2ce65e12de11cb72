import { stationsShifted } from '../../core/alignment/index.ts'
import { pointDistance } from '../../core/geom/index.ts'
import type { Point } from '../../core/geom/types.ts'
import type { PlanCommand } from '../../core/edit/types.ts'
import type { Id, LineClass } from '../../core/plan/types.ts'
import { chainSketch, chainSnap, isSamePlace } from '../shared/chain.ts'
import { edgeReading } from '../shared/edgeNear.ts'
import { entryPoint } from '../shared/entry.ts'
import { entryRadius } from '../shared/entryRadius.ts'
import { legPlaces, legPoseIn } from '../shared/handles.ts'
import { layDown, noHint, stay } from '../shared/steps.ts'
import type { EntryRefusal, Modifiers, SketchItem, Snap, Step, Tool, ToolContext, ToolEvent, ToolOption } from '../types.ts'
import { draftDrawOn, draftLineClass, draftName, draftTrack, onLeg, type DraftEnd, type DraftPoint, type DraftStart } from './draft.ts'
import { trackLaidDown } from './shallow.ts'

/* Lays a centreline: the start, then its PIs, then the end. The line is solved as it is laid. */

interface Pointing {
  readonly pointer: Point | null
  readonly snap: Snap | null
  readonly isDown: boolean
  /** Class chosen in the strip; null: as draftLineClass finds it. */
  readonly lineClass: Id | null
}
export type TrackToolState =
  | ({ readonly kind: 'idle' } & Pointing)
  /** points: the PIs after the start; the last one becomes the end if the line ends there. */
  | ({ readonly kind: 'laying'; readonly start: DraftStart; readonly points: readonly DraftPoint[] } & Pointing)

type DrawOn = Extract<ToolOption, { kind: 'drawOn' }>
type Laying = Extract<TrackToolState, { kind: 'laying' }>

const idle: TrackToolState = { kind: 'idle', pointer: null, snap: null, isDown: false, lineClass: null }

export const trackTool: Tool<TrackToolState> = {
  name: 'track',
  initial: idle,
  step: trackStep,
  sketch: trackSketch,
  entry: ({ kind }) => (kind === 'idle' ? 'point' : 'pi'),
  offer: (state, context) => ({
    kind: 'chain',
    points: laidPoints(state).length,
    canEnd: laidPoints(state).length >= 2,
    lineClass: isDrawnOn(state) ? null : (draftLineClass(state.lineClass, context)?.id ?? null),
  }),
  cursor: () => 'draw',
  takesDrag: () => true,
}

function trackStep(state: TrackToolState, event: ToolEvent, context: ToolContext): Step<TrackToolState> {
  switch (event.kind) {
    case 'pointerDown':
      return stay({ ...pointed(state, event.at, event.modifiers, context), isDown: true })
    case 'pointerMove':
      return stay(pointed(state, event.at, event.modifiers, context))
    case 'pointerUp':
      return state.isDown ? clicked({ ...pointed(state, event.at, event.modifiers, context), isDown: false }, context) : stay(state)
    case 'pointerLeave':
      return stay({ ...state, pointer: null, snap: null, isDown: false })
    case 'doubleClick':
    case 'complete':
      return state.kind === 'idle' ? stay(state) : endedFree(state, context)
    case 'key':
      return event.key === 'Backspace' ? stay(withoutLast(state)) : stay(state)
    case 'entryChange': {
      const typed = typedPoint(state, withoutRadius(event.text, context), context)
      return stay(typed.ok ? { ...state, pointer: typed.point, snap: null } : state)
    }
    case 'entry':
      return entered(state, event.text, context)
    case 'option':
      if (event.change.kind === 'drawOn') return takenUp(state, event.change, context)
      return stay(event.change.kind === 'lineClass' ? { ...state, lineClass: event.change.lineClass } : state)
    case 'cancel':
      if (state.kind === 'idle') return { state, effects: [layDown] }
      return { state: { ...idle, lineClass: state.lineClass }, effects: [noHint] }
    case 'interrupt':
      return { state: { ...idle, lineClass: state.lineClass }, effects: [noHint] }
  }
}

const isDrawnOn = (state: TrackToolState): boolean => state.kind === 'laying' && state.start.kind === 'drawOn'

/** A track is in the hand by an end: its first PI lies straight ahead of it. */
function takenUp(state: TrackToolState, { track, end }: DrawOn, context: ToolContext): Step<TrackToolState> {
  const start = draftDrawOn(track, end, context)
  if (start === null) return { state, effects: [{ kind: 'hint', hint: { kind: 'noTrackHere' } }] }
  return { state: { ...idle, kind: 'laying', start, points: [], lineClass: state.lineClass }, effects: [noHint] }
}

/** The points on the ground, start first. */
function laidPoints(state: TrackToolState): readonly Point[] {
  if (state.kind === 'idle') return []
  const { start } = state
  return [start.kind === 'free' ? start.at : { x: start.pose.x, y: start.pose.y }, ...state.points]
}

/** The first PI after a leg lies on the leg's tangent; after the end of a track on its own. */
function boundTo(state: TrackToolState): Extract<DraftStart, { kind: 'leg' }>['pose'] | null {
  return state.kind === 'laying' && state.start.kind !== 'free' && state.points.length === 0 ? state.start.pose : null
}

function pointed(state: TrackToolState, at: Point, modifiers: Modifiers, context: ToolContext): TrackToolState {
  const canClose = state.kind === 'laying' && state.start.kind === 'free' && state.points.length >= 2
  const wish = { legs: true, tracks: true, benchwork: false, walls: false }
  const { point, snap } = chainSnap(context, { points: laidPoints(state), at, modifiers, wish, canClose, bound: boundTo(state) })
  return { ...state, pointer: point, snap }
}

function typedPoint(state: TrackToolState, text: string, context: ToolContext): ReturnType<typeof entryPoint> {
  const typed = entryPoint(text, { from: laidPoints(state).at(-1) ?? null, towards: state.pointer, units: context.units })
  const bound = boundTo(state)
  return typed.ok && bound !== null ? { ok: true, point: onLeg(bound, typed.point) } : typed
}

function withoutRadius(text: string, context: ToolContext): string {
  const typed = entryRadius(text, context.units)
  return typed.ok ? typed.rest : text
}

/** A place, a radius for it behind it, or a radius alone for the PI that was set last. */
function entered(state: TrackToolState, text: string, context: ToolContext): Step<TrackToolState> {
  const refused = (refusal: EntryRefusal): Step<TrackToolState> => ({
    state,
    effects: [{ kind: 'hint', hint: { kind: 'entry', refusal } }],
  })
  const typed = entryRadius(text, context.units)
  if (!typed.ok) return refused(typed.refusal)
  const { rest, radiusMm } = typed
  if (radiusMm !== null && rest === '') {
    const last = state.kind === 'laying' ? state.points.at(-1) : undefined
    if (state.kind !== 'laying' || last === undefined) return refused({ kind: 'noCorner' })
    return { state: { ...state, points: [...state.points.slice(0, -1), { ...last, radiusMm }] }, effects: [noHint] }
  }
  const point = typedPoint(state, rest, context)
  if (!point.ok) return refused(point.refusal)
  if (radiusMm === null) return withPoint(state, point.point, context)
  return state.kind === 'idle' ? refused({ kind: 'noCorner' }) : withPoint(state, { ...point.point, radiusMm }, context)
}

function clicked(state: TrackToolState, context: ToolContext): Step<TrackToolState> {
  const { pointer, snap } = state
  if (pointer === null) return stay(state)
  if (state.kind === 'idle') {
    const start: DraftStart = snap?.leg ? { kind: 'leg', ...snap.leg } : { kind: 'free', at: pointer }
    return { state: { ...state, kind: 'laying', start, points: [], snap: null }, effects: [noHint] }
  }
  if (snap?.kind === 'firstPoint') return finished(state, state.points, { kind: 'closed' }, context)
  if (snap?.leg && !isOwnStart(state, snap.leg)) {
    return finished(state, state.points, { kind: 'leg', ...snap.leg }, context)
  }
  if (isSamePlace(context, pointer, laidPoints(state).at(-1))) return stay(state)
  return withPoint(state, pointer, context)
}

function isOwnStart({ start }: Laying, leg: NonNullable<Snap['leg']>): boolean {
  return start.kind === 'leg' && start.turnout === leg.turnout && start.leg === leg.leg
}

function withPoint(state: TrackToolState, point: DraftPoint, context: ToolContext): Step<TrackToolState> {
  if (state.kind === 'idle') {
    return {
      state: { ...state, kind: 'laying', start: { kind: 'free', at: point }, points: [], pointer: point, snap: null },
      effects: [noHint],
    }
  }
  const first = laidPoints(state)[0]
  const closes = state.start.kind === 'free' && state.points.length >= 2 && first !== undefined && pointDistance(first, point) < 0.1
  if (closes) return finished(state, state.points, { kind: 'closed' }, context)
  return { state: { ...state, points: [...state.points, point], pointer: point, snap: null }, effects: [noHint] }
}

function withoutLast(state: TrackToolState): TrackToolState {
  if (state.kind === 'idle') return state
  if (state.points.length === 0) return { ...idle, pointer: state.pointer, lineClass: state.lineClass }
  return { ...state, points: state.points.slice(0, -1), snap: null }
}

/** Enter or a double click: the last point set is the end. */
function endedFree(state: Laying, context: ToolContext): Step<TrackToolState> {
  const end = state.points.at(-1)
  if (end === undefined) return { state, effects: [{ kind: 'hint', hint: { kind: 'needPoints', have: 1, need: 2 } }] }
  return finished(state, state.points.slice(0, -1), { kind: 'free', at: end }, context)
}

function finished(state: Laying, points: readonly DraftPoint[], end: DraftEnd, context: ToolContext): Step<TrackToolState> {
  const lineClass = classOf(state, context)
  if (lineClass === null) return { state, effects: [{ kind: 'hint', hint: { kind: 'noLineClass' } }] }
  const drafted = draftTrack(state.start, points, end, lineClass.id, draftName(context))
  const laid = laidDown(drafted, lineClass, context)
  const record = laid.track
  if (state.start.kind === 'drawOn') return drawnOn(state, state.start, laid, context)
  return {
    state: { ...idle, lineClass: state.lineClass },
    effects: [{ kind: 'apply', command: { kind: 'track.add', record }, selectAdded: true }, noHint, layDown],
  }
}

type DrawnOn = Extract<DraftStart, { kind: 'drawOn' }>
type LaidDown = ReturnType<typeof trackLaidDown>

/** The new corners and the new end, as one step; what was there is not touched, and what is counted along it goes with a new start. */
function drawnOn(
  state: Laying,
  { track: before, end }: DrawnOn,
  { track: record, alignment }: LaidDown,
  context: ToolContext,
): Step<TrackToolState> {
  const { id } = before
  const isAhead = end === 'end'
  const count = record.corners.length - before.corners.length
  const added = isAhead ? record.corners.slice(before.corners.length) : record.corners.slice(0, count)
  const old = context.derived.network.tracks.get(id)?.alignment
  const moreMm = alignment.ok && old?.ok === true ? alignment.path.lengthMm - old.path.lengthMm : null
  const counted = isAhead ? [] : stationsShifted(context.plan, id, moreMm ?? 0)
  if (counted.length > 0 && moreMm === null) return { state, effects: [{ kind: 'hint', hint: { kind: 'startUnsolved' } }] }
  const first = isAhead ? before.corners.length : 0
  const commands: readonly PlanCommand[] = [
    ...added.map((corner, i): PlanCommand => ({ kind: 'corner.insert', track: id, index: first + i, corner })),
    isAhead ? { kind: 'track.setEnd', id, end: record.end } : { kind: 'track.setStart', id, start: record.start },
    ...counted,
  ]
  return {
    state: { ...idle, lineClass: state.lineClass },
    effects: [
      { kind: 'apply', command: { kind: 'group', label: `Draw on ${before.name}`, commands }, selectAdded: false },
      { kind: 'select', selection: { kind: 'record', table: 'tracks', id } },
      noHint,
      layDown,
    ],
  }
}

/** A track that is drawn on keeps its class. */
function classOf(state: Laying, context: ToolContext): LineClass | null {
  return draftLineClass(state.start.kind === 'drawOn' ? state.start.track.lineClass : state.lineClass, context)
}

function trackSketch(state: TrackToolState, context: ToolContext): readonly SketchItem[] {
  if (state.kind === 'idle') {
    const legs = legPlaces(context.derived).filter(({ takenBy }) => takenBy === null)
    // Nothing is there yet that it could be measured from: how far it keeps from the edge is what the eye asks.
    const edge = state.pointer === null || state.snap?.leg ? null : edgeReading(context.plan, state.pointer)
    return [
      ...legs.map(({ pose }): SketchItem => ({ kind: 'leg', pose })),
      ...(edge === null ? [] : [{ kind: 'reading', of: edge } as const]),
      ...chainSketch([], state.pointer, state.snap, 'construction'),
    ]
  }
  const preview = previewTrack(state, context)
  const lines = chainSketch(laidPoints(state), state.pointer, state.snap, 'construction')
  return preview === null ? lines : [preview, ...lines]
}

/** The line as it would be if it ended at the pointer. */
function previewTrack(state: Laying, context: ToolContext): SketchItem | null {
  const lineClass = classOf(state, context)
  if (lineClass === null) return null
  const { points, pointer, snap } = state
  const last = points.at(-1)
  const [corners, end] = ((): readonly [readonly DraftPoint[], DraftEnd | null] => {
    if (snap?.kind === 'firstPoint') return [points, { kind: 'closed' }]
    if (snap?.leg && !isOwnStart(state, snap.leg)) return [points, { kind: 'leg', ...snap.leg }]
    if (pointer !== null && !isSamePlace(context, pointer, last)) return [points, { kind: 'free', at: pointer }]
    return last === undefined ? [points, null] : [points.slice(0, -1), { kind: 'free', at: last }]
  })()
  if (end === null) return null
  const drafted = draftTrack(state.start, corners, end, lineClass.id, '')
  return { kind: 'alignment', alignment: laidDown(drafted, lineClass, context).alignment }
}

function laidDown(track: ReturnType<typeof draftTrack>, lineClass: LineClass, context: ToolContext): ReturnType<typeof trackLaidDown> {
  return trackLaidDown(track, lineClass, (turnout, leg) => legPoseIn(context.derived, turnout, leg))
}
