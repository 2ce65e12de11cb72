import { dataEqual, dataFreeze } from '../plan/data.ts'
import { planRows, planWith } from '../plan/planRows.ts'
import { placesChanged, rowsWith } from '../plan/rows.ts'
import type { Rows } from '../plan/rows.ts'
import { idCompare, tableNames } from '../plan/tables.ts'
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
  const changes = new Map<TableName, Map<Id, AnyRecord | null>>()
  for (const { table, id, after } of patch.records) {
    const ofTable = changes.get(table) ?? new Map<Id, AnyRecord | null>()
    changes.set(table, ofTable.set(id, dataFreeze(after)))
  }
  const railway = patch.railway === null ? plan.railway : dataFreeze(patch.railway.after)
  const tables: { [T in TableName]?: Table<AnyRecord> } = {}
  const rows = new Map<TableName, Rows<AnyRecord>>()
  for (const [table, ofTable] of changes) {
    const replaced = rowsReplaced(planRows(plan, table), ofTable)
    if (replaced === null) tables[table] = tableWith(plan[table], ofTable)
    else rows.set(table, replaced)
  }
  // Each record was filed under the table that it was made for; the type of one map over all tables cannot say so.
  return planWith(plan, { railway, ...(tables as Partial<Plan>) }, rows)
}

/** Whether a table has any record after a patch. */
export function patchLeavesAny(plan: Plan, { records }: PlanPatch, table: TableName): boolean {
  const ids = new Set(Object.keys(plan[table]))
  for (const change of records) {
    if (change.table !== table) continue
    if (change.after === null) ids.delete(change.id)
    else ids.add(change.id)
  }
  return ids.size > 0
}

/** Rows with other records; null: some come or go. */
function rowsReplaced(rows: Rows<AnyRecord>, changes: ReadonlyMap<Id, AnyRecord | null>): Rows<AnyRecord> | null {
  const replaced: (readonly [place: number, record: AnyRecord])[] = []
  for (const [id, after] of changes) {
    const place = rows.keys.placeOf.get(id)
    if (place === undefined || after === null) return null
    replaced.push([place, after])
  }
  return rowsWith(rows, replaced)
}

/** A table with other records; null: it is gone. */
function tableWith(table: Table<AnyRecord>, changes: ReadonlyMap<Id, AnyRecord | null>): Table<AnyRecord> {
  const records: { [id: Id]: AnyRecord } = { ...table }
  let isGrown = false
  for (const [id, after] of changes) {
    if (after === null) delete records[id]
    else {
      isGrown ||= !Object.hasOwn(table, id)
      records[id] = after
    }
  }
  return Object.freeze(isGrown ? inIdOrder(records) : records)
}

function inIdOrder(records: Table<AnyRecord>): Table<AnyRecord> {
  return Object.fromEntries(Object.entries(records).sort(([a], [b]) => idCompare(a, b)))
}

/**
 * The patch that makes the one plan into the other, found by the identity of records.
 *
 * Domain: plans of one history: a record that is the same object in both has not changed.
 */
export function patchBetween(before: Plan, after: Plan): PlanPatch {
  const records = tableNames.flatMap((table) => tableChanges(table, planRows(before, table), planRows(after, table)))
  return { railway: before.railway === after.railway ? null : { before: before.railway, after: after.railway }, records }
}

function tableChanges(table: TableName, was: Rows<AnyRecord>, is: Rows<AnyRecord>): readonly RecordChange[] {
  if (was === is) return []
  const changeAt = (place: number): RecordChange => ({
    table,
    id: is.keys.ids[place] ?? '',
    before: was.values.at(place) ?? null,
    after: is.values.at(place) ?? null,
  })
  const places = placesChanged(was, is)
  if (places !== null) return places.map(changeAt)
  const valueOf = ({ keys, values }: Rows<AnyRecord>, id: Id): AnyRecord | null => values.at(keys.placeOf.get(id) ?? -1) ?? null
  return [...new Set([...was.keys.ids, ...is.keys.ids])].flatMap((id) => {
    const [one, other] = [valueOf(was, id), valueOf(is, id)]
    return one === other ? [] : [{ table, id, before: one, after: other }]
  })
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
