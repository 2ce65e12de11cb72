import { patchBetween } from '../core/edit/index.ts'
import type { PlanPatch } from '../core/edit/types.ts'
import type { Plan } from '../core/plan/types.ts'

/**
 * The patch from one plan to another, to be sent.
 *
 * Outcome: a patch that patchApply takes. `before` is left out (null), since a patch that is sent is never taken back.
 *          null: they differ in more than records and the railway, as two documents do.
 */
export function planDifference(before: Plan, after: Plan): PlanPatch | null {
  if (before.version !== after.version || Object.keys(before).length !== Object.keys(after).length) return null
  const { railway, records } = patchBetween(before, after)
  return { railway, records: records.map((change) => ({ ...change, before: null })) }
}
