import { pathBox, pathFromElements, pathIntersections, pathNearest, pathStart, poseReverse } from '../../geom/index.ts'
import type { Path, Point, Pose } from '../../geom/types.ts'
import type { TrackEndName } from '../../plan/types.ts'
import { trackExtend } from './extend.ts'
import { STATION_ROUNDING_MM } from './parts.ts'
import { trackTrim } from './split.ts'
import type { TakenStretch, TrackInPlan, TrackOperationProblem, TrackOperationResult } from './types.ts'

/** A place where a track, or its last tangent run on, meets another track's centreline. */
export interface TrackMeeting {
  readonly end: TrackEndName
  /** What the end gains when it is brought there: + longer, - shorter. */
  readonly byMm: number
  /** Of the other track. */
  readonly otherStationMm: number
  readonly at: Point
  /** Between the two centrelines, 0 to pi/2. */
  readonly angleRad: number
}

export type TrackMeetings =
  | { readonly ok: true; readonly meetings: readonly TrackMeeting[] }
  | { readonly ok: false; readonly problem: TrackOperationProblem }

/** Centrelines nearer than this meet; a place where they only touch is as vague as the root of this times their radius. */
const MEET_MM = 1e-6

/**
 * The places to which one end of a track can be brought such that it ends on another track's centreline: where it crosses the other, and
 * where its end run straight on does. Those nearest to the end come first.
 *
 * Units:      mm, rad.
 * Domain:     two solved tracks of one plan, the first one open. An end at a leg is not run on.
 * Exactness:  as pathIntersections: at a crossing rounding over the sine of the angle. Where the end lies on the other already
 *             (within 1e-6 mm) that place is no longer one to be brought to.
 * Outcome:    at least one place, or why there is none, with how far the end lies from the other track.
 * Throws:     never.
 */
export function trackMeetings({ track, alignment }: TrackInPlan, end: TrackEndName, other: TrackInPlan): TrackMeetings {
  const no = (problem: TrackOperationProblem): TrackMeetings => ({ ok: false, problem })
  if (track.end.kind === 'closed') return no({ kind: 'isALoop', track: track.id })
  if (track.id === other.track.id) return no({ kind: 'sameTrack', track: track.id })
  const { path } = alignment
  const otherPath = other.alignment.path
  const endPose = end === 'end' ? path.end : poseReverse(pathStart(path))
  const own = meetingsOf(path, otherPath, end, (stationMm) => (end === 'end' ? stationMm - path.lengthMm : -stationMm))
  const isFree = track[end].kind === 'free'
  const ahead = isFree ? meetingsOf(runOn(endPose, otherPath), otherPath, end, (mm) => mm) : []
  const meetings = [...own, ...ahead]
    .filter(({ byMm }) => Math.abs(byMm) > STATION_ROUNDING_MM && byMm > -path.lengthMm + STATION_ROUNDING_MM)
    .toSorted((a, b) => Math.abs(a.byMm) - Math.abs(b.byMm))
  if (meetings.length > 0) return { ok: true, meetings }
  const near = pathNearest(otherPath, endPose)
  if (near.distanceMm <= STATION_ROUNDING_MM) return no({ kind: 'meetsAlready', end, otherTrack: other.track.id })
  return no({ kind: 'noMeeting', end, isFree, otherTrack: other.track.id, awayMm: near.distanceMm, otherStationMm: near.stationMm })
}

/**
 * The command that brings an end of a track to a meeting: cuts it off there, or lengthens it straight on.
 *
 * Domain:     a meeting of this track; `taken`: what its turnouts take.
 * Exactness:  as trackTrim and trackExtend.
 * Outcome:    one command, or what is in the way.
 * Throws:     never.
 */
export function trackTrimTo(on: TrackInPlan, { end, byMm }: TrackMeeting, taken: readonly TakenStretch[]): TrackOperationResult {
  if (byMm > 0) return trackExtend(on, end, byMm)
  const { lengthMm } = on.alignment.path
  return end === 'end' ? trackTrim(on, lengthMm + byMm, 'before', taken) : trackTrim(on, -byMm, 'behind', taken)
}

function meetingsOf(path: Path, other: Path, end: TrackEndName, byMm: (stationMm: number) => number): readonly TrackMeeting[] {
  return pathIntersections(path, other, MEET_MM).map(({ stationA, stationB, at, angleRad }) => ({
    end,
    byMm: byMm(stationA),
    otherStationMm: stationB,
    at,
    angleRad: Math.min(Math.abs(angleRad), Math.PI - Math.abs(angleRad)),
  }))
}

/** The end run straight on, until no place of the other path can lie beyond. */
function runOn(end: Pose, other: Path): Path {
  const { minX, minY, maxX, maxY } = pathBox(other, 1)
  const reachMm = Math.hypot(Math.max(end.x - minX, maxX - end.x), Math.max(end.y - minY, maxY - end.y))
  return pathFromElements(end, [{ lengthMm: reachMm, k0: 0, k1: 0 }])
}
