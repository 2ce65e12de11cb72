import type { Id, Plan } from '../plan/types.ts'

/** Tracks that climb over others and meet none of them on the level: those of a helix. */
export function climbingTracks(plan: Plan): ReadonlySet<Id> {
  return new Set(Object.values(plan.makers).flatMap(({ numbers, made }) => (numbers.kind === 'helix' ? made.tracks : [])))
}
