import { angleBetween, pathStart, poseReverse } from '../../geom/index.ts'
import type { Pose } from '../../geom/types.ts'
import type { PlanCommand } from '../../edit/types.ts'
import type { Corner, TrackEnd, TrackEndName } from '../../plan/types.ts'
import { trackTraverse } from '../track.ts'
import { stationsRecounted, stationsShifted } from './counted.ts'
import { cornerReversed, cornersRenamed, cornersReplace, group, makerOn, refused } from './parts.ts'
import type { TrackInPlan, TrackOperationResult } from './types.ts'

/** Ends this near, and this near to being in line, are one place of one line: a hundredth of a millimetre, two seconds of arc. */
const MEET_MM = 0.01
const IN_LINE_RAD = 1e-5

/** A loop has three PIs at least. */
const LOOP_CORNERS = 3

/** A track and the end of it that is meant. */
export interface MergeEnd {
  readonly on: TrackInPlan
  readonly end: TrackEndName
}

/** The pose that leaves a track at one of its ends. */
function leaving({ on, end }: MergeEnd): Pose {
  return end === 'end' ? on.alignment.path.end : poseReverse(pathStart(on.alignment.path))
}

/**
 * The command that makes one track of two whose free ends meet in line. The first keeps its id, class and direction, and takes over
 * what stood on the second. Both ends of one track make it a loop.
 *
 * Domain:     solved tracks.
 * Exactness:  the line stays within what the ends lie apart, at most a hundredth of a millimetre.
 * Outcome:    one command, or by how much the ends miss each other.
 * Throws:     never.
 */
export function trackMerge(first: MergeEnd, second: MergeEnd): TrackOperationResult {
  for (const { on, end } of [first, second]) {
    if (on.track.end.kind === 'closed') return refused({ kind: 'isALoop', track: on.track.id })
    if (on.track[end].kind !== 'free') return refused({ kind: 'endNotFree', track: on.track.id, end })
    const maker = makerOn(on.plan, on.track.id)
    if (maker !== null) return refused({ kind: 'carriesMaker', maker })
  }
  const own = leaving(first)
  const other = poseReverse(leaving(second))
  const distanceMm = Math.hypot(own.x - other.x, own.y - other.y)
  if (distanceMm > MEET_MM) return refused({ kind: 'apart', distanceMm })
  const turnRad = angleBetween(own.headingRad, other.headingRad)
  if (Math.abs(turnRad) > IN_LINE_RAD) return refused({ kind: 'kink', turnRad })
  const { track } = first.on
  if (second.on.track.id !== track.id) return mergeOf(first, second)
  if (first.end === second.end) return refused({ kind: 'apart', distanceMm: 0 })
  if (track.corners.length < LOOP_CORNERS) return refused({ kind: 'tooFewCorners', have: track.corners.length, need: LOOP_CORNERS })
  return group('Close loop', [{ kind: 'track.setEnd', id: track.id, end: { kind: 'closed' } }])
}

function mergeOf(first: MergeEnd, second: MergeEnd): TrackOperationResult {
  const { plan, track, alignment } = first.on
  const taken = second.on.track
  const { id } = track
  // The second track runs on from the first one's end, or up to its start; else it is turned round.
  const isTurned = first.end === second.end
  const own = cornersOfClass(second.on, track.lineClass)
  const joined = isTurned ? own.toReversed().map(cornerReversed) : own
  const corners = first.end === 'end' ? [...track.corners, ...joined] : [...joined, ...track.corners]
  const farEnd = second.end === 'end' ? taken.start : taken.end
  const lengthMm = alignment.path.lengthMm
  const takenMm = second.on.alignment.path.lengthMm
  const pastMm = first.end === 'end' ? lengthMm : 0
  const moved = stationsRecounted(plan, taken.id, {
    to: (stationMm) => ({ track: id, stationMm: pastMm + (isTurned ? takenMm - stationMm : stationMm) }),
    isTurned,
  })
  const shifted = first.end === 'end' ? [] : stationsShifted(plan, id, takenMm)
  return group('Merge tracks', [
    ...shifted,
    ...moved,
    // The second track goes before the first one takes the leg that it may hang on.
    { kind: 'remove', table: 'tracks', id: taken.id },
    ...farEndSet(first, farEnd),
    ...cornersReplace(track, cornersRenamed(corners)),
  ])
}

function farEndSet({ on, end }: MergeEnd, farEnd: TrackEnd): readonly PlanCommand[] {
  if (farEnd.kind === 'closed') return []
  const { id } = on.track
  return end === 'end' ? [{ kind: 'track.setEnd', id, end: farEnd }] : [{ kind: 'track.setStart', id, start: farEnd }]
}

/** Corners of a track as another class would have to spell them: values by class become numbers where the classes differ. */
function cornersOfClass({ track, lineClass }: TrackInPlan, otherClass: string): readonly Corner[] {
  if (track.lineClass === otherClass) return track.corners
  const resolved = trackTraverse(track, lineClass, () => ({ x: 0, y: 0, headingRad: 0 }))
  if (!resolved.ok) return track.corners
  return track.corners.map((corner, i): Corner => {
    const plain = resolved.traverse.corners[i]
    if (plain === undefined) return corner
    const { radiusMm, easementInMm, easementOutMm } = plain
    const radius: Corner['radius'] =
      radiusMm === null
        ? 'easement-only'
        : typeof radiusMm === 'number'
          ? radiusMm
          : {
              first: { radius: radiusMm.first.radiusMm, turn: radiusMm.first.turn },
              next: radiusMm.next.map((arc) => ({ radius: arc.radiusMm, turn: arc.turn, easement: arc.easementMm })),
            }
    return { ...corner, radius, easementIn: easementInMm, easementOut: easementOutMm }
  })
}
