import * as v from 'valibot'
import { patchApply, patchInvert } from '../core/edit/index.ts'
import type { PlanPatch } from '../core/edit/index.ts'
import { dataEqual, planParse, tableNames } from '../core/plan/index.ts'
import type { Plan } from '../core/plan/index.ts'
import { historyNone } from './history.ts'
import type { History, HistoryEntry } from './types.ts'

const change = v.object({ before: v.unknown(), after: v.unknown() })
const entries = v.array(
  v.object({
    label: v.string(),
    patch: v.object({
      railway: v.nullable(change),
      records: v.array(v.object({ table: v.picklist(tableNames), id: v.string(), ...change.entries })),
    }),
  }),
)

/**
 * The steps that were kept with a plan, as far as they belong to it: each must begin with what the plan then holds. The farthest plan they
 * lead to must be one that could be opened; else none is taken, for a step back is to do no harm.
 */
export function historyRestored(plan: Plan, kept: unknown): History {
  const read = v.safeParse(v.object({ undo: entries, redo: entries }), kept)
  if (!read.success) return historyNone
  // What the records hold is looked at by planParse, at the farthest plan.
  const { undo, redo } = read.output as unknown as History
  return { undo: stepsFitting(plan, undo, patchInvert), redo: stepsFitting(plan, redo, (patch) => patch) }
}

function stepsFitting(plan: Plan, steps: readonly HistoryEntry[], direction: (patch: PlanPatch) => PlanPatch): readonly HistoryEntry[] {
  let at = plan
  let count = 0
  for (const { patch } of steps.toReversed()) {
    const step = direction(patch)
    if (!beginsWith(at, step)) break
    at = patchApply(at, step)
    count += 1
  }
  return count > 0 && planParse(at).ok ? steps.slice(-count) : []
}

function beginsWith(plan: Plan, { railway, records }: PlanPatch): boolean {
  return (
    (railway === null || dataEqual(plan.railway, railway.before)) &&
    records.every(({ table, id, before }) => dataEqual(Object.hasOwn(plan[table], id) ? plan[table][id] : null, before))
  )
}
