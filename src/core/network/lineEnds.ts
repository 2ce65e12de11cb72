import { angleWrap, pathStart, pointDistance, poseReverse } from '../geom/index.ts'
import type { Point, Pose } from '../geom/types.ts'
import type { Id, TrackEndName } from '../plan/types.ts'
import type { NetworkTrack } from './types.ts'

/** Where a line goes on under another name: the end that an end of a track meets. */
export interface EndMet {
  readonly track: Id
  readonly end: TrackEndName
  /** From end to end, mm. */
  readonly gapMm: number
  /** By how much the line turns in the joint, left positive as one leaves the first track; 0: it runs straight through. */
  readonly kinkRad: number
}

/** Ends nearer than this hold together: one is moved with the other. [COMMON-PRACTICE: what a rail joiner takes up.] */
export const endsHoldMm = 1
/** Ends farther apart than this belong to two lines, mm: no one leaves so little on purpose. */
export const endsNearMm = 5
/** A line that would turn more than this in a joint is none: two tracks end at one spot. An eighth of a turn. */
export const mostKinkRad = Math.PI / 4

/** How the free end of a solved, open track looks outwards; null: it is not free. */
export function endPose({ track, alignment }: NetworkTrack, end: TrackEndName): Pose | null {
  if (!alignment.ok || alignment.isClosed || track[end].kind !== 'free') return null
  return end === 'start' ? poseReverse(pathStart(alignment.path)) : alignment.path.end
}

const ends = ['start', 'end'] as const

/**
 * The free end of another of some tracks that a free end of a track meets, the nearest one; null: none.
 *
 * Units:   mm, rad. withinMm: how far apart the two may be.
 * Outcome: of two ends that look at each other, so that a train could run on; whether they lie in line tells the kink.
 */
export function endMet(tracks: Iterable<NetworkTrack>, own: NetworkTrack, end: TrackEndName, withinMm = endsHoldMm): EndMet | null {
  const here = endPose(own, end)
  if (here === null) return null
  let met: EndMet | null = null
  for (const other of tracks) {
    if (other.track.id === own.track.id || !endsNear(other, here, withinMm)) continue
    for (const there of ends) {
      const pose = endPose(other, there)
      if (pose === null) continue
      const gapMm = pointDistance(here, pose)
      const kinkRad = angleWrap(pose.headingRad + Math.PI - here.headingRad)
      if (gapMm > withinMm || Math.abs(kinkRad) > mostKinkRad || (met !== null && met.gapMm <= gapMm)) continue
      met = { track: other.track.id, end: there, gapMm, kinkRad }
    }
  }
  return met
}

/** Looked at for thousands of tracks: what ends far away is told without a pose. */
function endsNear({ alignment }: NetworkTrack, here: Point, withinMm: number): boolean {
  if (!alignment.ok) return false
  const isNear = ({ x, y }: Point): boolean => Math.abs(here.x - x) <= withinMm && Math.abs(here.y - y) <= withinMm
  return isNear(pathStart(alignment.path)) || isNear(alignment.path.end)
}
