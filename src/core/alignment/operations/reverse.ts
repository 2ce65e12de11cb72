import type { PlanCommand } from '../../edit/types.ts'
import type { Track, TrackEnd, TrackStart } from '../../plan/types.ts'
import { stationsRecounted } from './counted.ts'
import { cornerReversed, cornersReplace, group, makerOn, refused } from './parts.ts'
import type { TrackInPlan, TrackOperationResult } from './types.ts'

/** The ends of a track exchanged; a loop keeps the place where its stations begin. */
export function trackEndsReversed({ start, end }: Track): { readonly start: TrackStart; readonly end: TrackEnd } {
  return end.kind === 'closed' ? { start, end } : { start: end, end: start }
}

/**
 * The command that lets a track's stations run the other way. Its line stays where it is, and so does all that is counted along it.
 *
 * Domain:     a solved track.
 * Exactness:  exact but for stations along it, which lose the rounding of one subtraction.
 * Outcome:    one command, or the maker that counts along this track.
 * Throws:     never.
 */
export function trackReverse({ plan, track, alignment }: TrackInPlan): TrackOperationResult {
  const maker = makerOn(plan, track.id)
  if (maker !== null) return refused({ kind: 'carriesMaker', maker })
  const { id } = track
  const { start, end } = trackEndsReversed(track)
  const corners = track.corners.toReversed().map(cornerReversed)
  const { lengthMm } = alignment.path
  // A leg holds one track: the start is set free before the end takes its leg.
  const ends: readonly PlanCommand[] =
    end.kind === 'closed'
      ? []
      : [
          { kind: 'track.setStart', id, start: { kind: 'free', x: 0, y: 0 } },
          { kind: 'track.setEnd', id, end },
          { kind: 'track.setStart', id, start },
        ]
  const counted = stationsRecounted(plan, id, { to: (stationMm) => ({ track: id, stationMm: lengthMm - stationMm }), isTurned: true })
  return group('Reverse track', [...ends, ...cornersReplace(track, corners), ...counted])
}
