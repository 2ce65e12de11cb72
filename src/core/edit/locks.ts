import type { Id, Lock, Plan, Table, TableName } from '../plan/types.ts'
import type { EditProblem, PlanPatch } from './types.ts'

/** Why a patch may not be: it changes what is locked, or takes it out. Null: it may. */
export function lockedProblem(plan: Plan, { records }: PlanPatch): EditProblem | null {
  const hit = records.find(({ table, id, before }) => before !== null && table !== 'locks' && lockOf(plan, table, id) !== null)
  return hit === undefined ? null : { kind: 'locked', table: hit.table, id: hit.id }
}

/** The lock on a record; null: it is free. */
export function lockOf(plan: Plan, table: TableName, id: Id): Lock | null {
  return locksByRecord(plan.locks).get(`${table} ${id}`) ?? null
}

const known = new WeakMap<Table<Lock>, ReadonlyMap<string, Lock>>()

function locksByRecord(locks: Table<Lock>): ReadonlyMap<string, Lock> {
  const kept = known.get(locks)
  if (kept !== undefined) return kept
  const made = new Map(Object.values(locks).map((lock) => [`${lock.table} ${lock.record}`, lock]))
  known.set(locks, made)
  return made
}
