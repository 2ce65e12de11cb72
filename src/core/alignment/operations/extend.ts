import { pathStart, poseAhead } from '../../geom/index.ts'
import type { TrackEndName } from '../../plan/types.ts'
import { stationsShifted } from './counted.ts'
import { freeAt, group, makerOn, refused } from './parts.ts'
import type { TrackInPlan, TrackOperationResult } from './types.ts'

/**
 * The command that lengthens a track at a free end, straight on.
 *
 * Units:      mm.
 * Domain:     a solved open track; distance > 0.
 * Exactness:  up to rounding. What is counted along it stays where it is.
 * Outcome:    one command, or what is in the way.
 * Throws:     never.
 */
export function trackExtend({ plan, track, alignment }: TrackInPlan, end: TrackEndName, distanceMm: number): TrackOperationResult {
  if (!Number.isFinite(distanceMm)) return refused({ kind: 'notFinite', where: 'distance' })
  if (distanceMm <= 0) return refused({ kind: 'notPositive', where: 'distance', value: distanceMm })
  if (track.end.kind === 'closed') return refused({ kind: 'isALoop', track: track.id })
  if (track[end].kind !== 'free') return refused({ kind: 'endNotFree', track: track.id, end })
  const { id } = track
  if (end === 'end') return group('Extend track', [{ kind: 'track.setEnd', id, end: freeAt(poseAhead(alignment.path.end, distanceMm)) }])
  const maker = makerOn(plan, id)
  if (maker !== null) return refused({ kind: 'carriesMaker', maker })
  const start = freeAt(poseAhead(pathStart(alignment.path), -distanceMm))
  return group('Extend track', [{ kind: 'track.setStart', id, start }, ...stationsShifted(plan, id, distanceMm)])
}
