import { angleBetween, pathStart, pointLerp, poseReverse, poseToLocal, poseToPlan } from '../../core/geom/index.ts'
import type { Point, Pose } from '../../core/geom/types.ts'
import { cornerNextId, recordFind } from '../../core/plan/index.ts'
import type { Corner, Id, LineClass, Track, TrackEnd, TrackEndName, TrackStart, TurnoutLeg } from '../../core/plan/types.ts'
import { selectedTrack } from '../shared/pick.ts'
import { nextName } from '../shared/names.ts'
import type { ToolContext } from '../types.ts'

/** A turnout's leg with the pose that it has. */
export interface DraftLeg {
  readonly kind: 'leg'
  readonly turnout: Id
  readonly leg: TurnoutLeg
  readonly pose: Pose
}

/** A PI as it was set; without a radius of its own it has that of the class. */
export type DraftPoint = Point & { readonly radiusMm?: number }

/** Where a line being laid began; drawOn: at a free end of a track, which it becomes a part of. */
export type DraftStart =
  | { readonly kind: 'free'; readonly at: Point }
  | DraftLeg
  | { readonly kind: 'drawOn'; readonly track: Track; readonly end: TrackEndName; readonly pose: Pose }

/** How a line being laid would end. */
export type DraftEnd = { readonly kind: 'free'; readonly at: Point } | DraftLeg | { readonly kind: 'closed' }

/** A start that turns less than this when the loop closes lies on a side and is no corner of it. */
const straightRad = (1 * Math.PI) / 180

/** The track that the points set so far would make. `points` are the PIs after the start. */
export function draftTrack(
  start: DraftStart,
  points: readonly DraftPoint[],
  end: DraftEnd,
  lineClass: Id,
  name: string,
): Omit<Track, 'id'> {
  if (start.kind === 'drawOn') {
    const { id: _id, ...track } = start.track
    const added = corners(points, track.corners)
    return start.end === 'end' || end.kind === 'closed'
      ? { ...track, corners: [...track.corners, ...added], end: trackEnd(end) }
      : { ...track, corners: [...added.toReversed(), ...track.corners], start: openEnd(end) }
  }
  if (end.kind === 'closed' && start.kind === 'free') return draftLoop(start.at, points, lineClass, name)
  return { name, lineClass, start: trackStart(start), corners: corners(points), end: trackEnd(end) }
}

/** A loop closed on its first point: that point is a corner like the others, and stations begin half way to it. */
function draftLoop(first: Point, points: readonly DraftPoint[], lineClass: Id, name: string): Omit<Track, 'id'> {
  const next = points[0] ?? first
  const last = points.at(-1) ?? first
  const turn = angleBetween(Math.atan2(first.y - last.y, first.x - last.x), Math.atan2(next.y - first.y, next.x - first.x))
  const isCorner = Math.abs(turn) > straightRad
  const at = isCorner ? pointLerp(last, first, 0.5) : first
  const pis = isCorner ? [first, ...points] : points
  return { name, lineClass, start: { kind: 'free', x: at.x, y: at.y }, corners: corners(pis), end: { kind: 'closed' } }
}

function trackStart(start: Exclude<DraftStart, { kind: 'drawOn' }>): TrackStart {
  return start.kind === 'leg' ? { kind: 'leg', turnout: start.turnout, leg: start.leg } : { kind: 'free', x: start.at.x, y: start.at.y }
}

const trackEnd = (end: DraftEnd): TrackEnd => (end.kind === 'closed' ? { kind: 'closed' } : openEnd(end))

const openEnd = (end: Exclude<DraftEnd, { kind: 'closed' }>): TrackStart =>
  end.kind === 'free' ? { kind: 'free', x: end.at.x, y: end.at.y } : { kind: 'leg', turnout: end.turnout, leg: end.leg }

/** PIs as corners, their ids beside those that are there. */
function corners(points: readonly DraftPoint[], before: readonly Corner[] = []): readonly Corner[] {
  return points.reduce<readonly Corner[]>((made, { x, y, radiusMm }) => {
    const id = cornerNextId([...before, ...made])
    return [...made, { id, x, y, radius: radiusMm ?? 'class', easementIn: 'class', easementOut: 'class' }]
  }, [])
}

/** An end of a track to be drawn on, its pose looking off the track; null: it is no free one. */
export function draftDrawOn(trackId: Id, end: TrackEndName, { plan, derived }: ToolContext): DraftStart | null {
  const track = recordFind(plan, 'tracks', trackId)
  const alignment = derived.network.tracks.get(trackId)?.alignment
  if (track === null || track.end.kind === 'closed' || track[end].kind !== 'free' || alignment?.ok !== true) return null
  return { kind: 'drawOn', track, end, pose: end === 'end' ? alignment.path.end : poseReverse(pathStart(alignment.path)) }
}

/** Foot of a point on the tangent of a leg, never behind it. */
export function onLeg(pose: Pose, point: Point): Point {
  const ahead = Math.max(0, poseToLocal(pose, point).x)
  return poseToPlan(pose, { x: ahead, y: 0 })
}

/** The class a new line gets: the one chosen in the tool, else that of the selected track, else the main's, else the railway's first. */
export function draftLineClass(chosen: Id | null, context: ToolContext): LineClass | null {
  const { plan } = context
  const fromChoice = chosen === null ? null : recordFind(plan, 'lineClasses', chosen)
  if (fromChoice !== null) return fromChoice
  const trackId = selectedTrack(context)
  const selected = trackId === null ? null : recordFind(plan, 'tracks', trackId)
  return (
    (selected === null ? null : recordFind(plan, 'lineClasses', selected.lineClass)) ??
    recordFind(plan, 'lineClasses', 'main') ??
    Object.values(plan.lineClasses)[0] ??
    null
  )
}

export function draftName({ plan }: ToolContext): string {
  return nextName('Track', Object.values(plan.tracks))
}
