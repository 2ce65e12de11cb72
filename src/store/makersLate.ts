import type { PlanPatch } from '../core/edit/types.ts'
import type { Plan } from '../core/plan/types.ts'
import { late } from '../engine/late.ts'
import type { Late } from '../engine/late.ts'

export type MakersFollowing = () => (plan: Plan, patch: PlanPatch) => PlanPatch

/** Lets makers follow what they stand on. Heavy, and of no use before the first edit: it comes when a hand first does. */
export const makersLate: Late<MakersFollowing> = late(async () => (await import('./makersFollowing.ts')).makersFollowing)
