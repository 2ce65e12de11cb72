import type { PlanPatch, RecordChange } from '../core/edit/types.ts'
import { placesChanged, rowsOfTable, tableNames } from '../core/plan/index.ts'
import type { AnyRecord, Plan, Table } from '../core/plan/types.ts'

/**
 * The patch from one plan to another, found by the identity of records: as quick as counting them.
 *
 * Outcome: a patch that patchApply takes. `before` is left out (null), since a patch that is sent is never taken back.
 *          null: they differ in more than records and the railway, as two documents do.
 */
export function planDifference(before: Plan, after: Plan): PlanPatch | null {
  if (before.version !== after.version || Object.keys(before).length !== Object.keys(after).length) return null
  const records: RecordChange[] = []
  for (const table of tableNames) {
    const was: Table<AnyRecord> = before[table]
    const is: Table<AnyRecord> = after[table]
    if (was === is) continue
    const [rowsWas, rowsIs] = [rowsOfTable(was), rowsOfTable(is)]
    const places = rowsWas.keys === rowsIs.keys ? placesChanged(rowsWas.values, rowsIs.values) : null
    if (places !== null) {
      for (const place of places)
        records.push({ table, id: rowsIs.keys.ids[place] ?? '', before: null, after: rowsIs.values[place] ?? null })
      continue
    }
    for (const id of Object.keys(was)) if (!Object.hasOwn(is, id)) records.push({ table, id, before: null, after: null })
    for (const [id, record] of Object.entries(is)) {
      if (!Object.hasOwn(was, id) || was[id] !== record) records.push({ table, id, before: null, after: record })
    }
  }
  const railway = before.railway === after.railway ? null : { before: before.railway, after: after.railway }
  return { railway, records }
}
