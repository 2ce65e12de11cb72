import type { TakenStretch, TrackInPlan } from '../../core/alignment/index.ts'
import { turnoutStretch } from '../../core/network/index.ts'
import type { Network } from '../../core/network/types.ts'
import type { Id } from '../../core/plan/types.ts'

/** A solved track as operations take it; null: it has no line. */
export function trackOn(network: Network, id: Id): TrackInPlan | null {
  const one = network.tracks.get(id)
  return one?.alignment.ok === true ? { plan: network.plan, track: one.track, lineClass: one.lineClass, alignment: one.alignment } : null
}

/** What the turnouts of a track take of it. */
export function takenOn(network: Network, id: Id): readonly TakenStretch[] {
  return (network.turnoutsOn.get(id) ?? []).flatMap(({ turnout, result }) =>
    result.ok ? [{ turnout: turnout.id, ...turnoutStretch(turnout, result.geometry.extent.fromMm, result.geometry.extent.toMm) }] : [],
  )
}
