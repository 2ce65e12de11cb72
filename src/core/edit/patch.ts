import { dataEqual, dataFreeze } from '../plan/data.ts'
import { idCompare } from '../plan/tables.ts'
import type { AnyRecord, Id, Plan, Table, TableName } from '../plan/types.ts'
import type { PlanPatch, RecordChange } from './types.ts'

/** The patch that changes nothing. */
export const patchEmpty: PlanPatch = dataFreeze({ railway: null, records: [] })

export function patchIsEmpty(patch: PlanPatch): boolean {
  return patch.railway === null && patch.records.length === 0
}

/**
 * The plan after a patch.
 *
 * Exactness: tables and records that the patch does not name keep their identity; an empty patch gives back the same plan.
 *            Tables stay in the order of their ids. What is new is frozen.
 * Domain:    a patch made for this plan; `before` is not looked at.
 */
export function patchApply(plan: Plan, patch: PlanPatch): Plan {
  if (patchIsEmpty(patch)) return plan
  const changed = new Map<TableName, { [id: Id]: AnyRecord }>()
  const grown = new Set<TableName>()
  for (const { table, id, after } of patch.records) {
    const records = changed.get(table) ?? { ...plan[table] }
    changed.set(table, records)
    if (!Object.hasOwn(records, id)) grown.add(table)
    if (after === null) delete records[id]
    else records[id] = dataFreeze(after)
  }
  const tables: { [T in TableName]?: Table<AnyRecord> } = {}
  for (const [table, records] of changed) tables[table] = Object.freeze(grown.has(table) ? inIdOrder(records) : records)
  const railway = patch.railway === null ? plan.railway : dataFreeze(patch.railway.after)
  // Each record was filed under the table that it was made for; the type of one map over all tables cannot say so.
  return Object.freeze({ ...plan, railway, ...(tables as Partial<Plan>) })
}

function inIdOrder(records: Table<AnyRecord>): Table<AnyRecord> {
  return Object.fromEntries(Object.entries(records).sort(([a], [b]) => idCompare(a, b)))
}

/** The patch that undoes this one: applied after it, it gives the plan from before. */
export function patchInvert(patch: PlanPatch): PlanPatch {
  return {
    railway: patch.railway === null ? null : { before: patch.railway.after, after: patch.railway.before },
    records: patch.records.map(({ table, id, before, after }) => ({ table, id, before: after, after: before })),
  }
}

/**
 * One patch that does the work of a and then b. A record that comes back to what it was is left out,
 * so steps that cancel each other leave an empty patch.
 */
export function patchSquash(a: PlanPatch, b: PlanPatch): PlanPatch {
  const changes = new Map<string, RecordChange>()
  for (const change of [...a.records, ...b.records]) {
    const key = `${change.table} ${change.id}`
    const earlier = changes.get(key)
    changes.set(key, earlier === undefined ? change : { ...earlier, after: change.after })
  }
  const before = (a.railway ?? b.railway)?.before
  const after = (b.railway ?? a.railway)?.after
  return {
    railway: before === undefined || after === undefined || dataEqual(before, after) ? null : { before, after },
    records: [...changes.values()].filter((change) => !dataEqual(change.before, change.after)),
  }
}
