import type { PlanCommand } from '../../edit/types.ts'
import type { Facing, Track, TrackEnd, TrackStart } from '../../plan/types.ts'
import { cornerReversed, cornersReplace, crossingsMoved, group, makerOn, refused, turnoutsOn } from './parts.ts'
import type { TrackInPlan, TrackOperationResult } from './types.ts'

/** What faced rising stations faces falling ones. */
export const facingReversed = (facing: Facing): Facing => (facing === 'rising' ? 'falling' : 'rising')

/** The ends of a track exchanged; a loop keeps the place where its stations begin. */
export function trackEndsReversed({ start, end }: Track): { readonly start: TrackStart; readonly end: TrackEnd } {
  return end.kind === 'closed' ? { start, end } : { start: end, end: start }
}

/**
 * The command that lets a track's stations run the other way. Its line stays where it is, and so do its turnouts.
 *
 * Domain:     a solved track.
 * Exactness:  exact but for the stations of turnouts, which lose the rounding of one subtraction.
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
  const turnouts = turnoutsOn(plan, id).map(
    (turnout): PlanCommand => ({
      kind: 'turnout.set',
      id: turnout.id,
      change: { stationMm: lengthMm - turnout.stationMm, facing: facingReversed(turnout.facing) },
    }),
  )
  // A leg holds one track: the start is set free before the end takes its leg.
  const ends: readonly PlanCommand[] =
    end.kind === 'closed'
      ? []
      : [
          { kind: 'track.setStart', id, start: { kind: 'free', x: 0, y: 0 } },
          { kind: 'track.setEnd', id, end },
          { kind: 'track.setStart', id, start },
        ]
  const crossings = crossingsMoved(plan, id, (stationMm) => ({ track: id, stationMm: lengthMm - stationMm }))
  return group('Reverse track', [...ends, ...cornersReplace(track, corners), ...turnouts, ...crossings])
}
