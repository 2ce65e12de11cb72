import { invariant } from '../geom/index.ts'
import { rowsOfTable, tableOfRows } from './rows.ts'
import type { Rows } from './rows.ts'
import type { AnyRecord, Plan, PlanTables, Table, TableName } from './types.ts'

/*
 * A step of a drag makes a plan whose tracks nobody lists: what is drawn and found asks for one record, or for what differs. So a table
 * that was made from rows stands in its plan as rows, and is listed when somebody first reads it as an object.
 */

type Waiting = ReadonlyMap<TableName, Rows<AnyRecord>>

const waitingIn = new WeakMap<object, Waiting>()
const descriptors = new Map<TableName, PropertyDescriptor>()

/** One getter for all plans: each of its own would make every plan another shape to the engine. */
function descriptorOf(table: TableName): PropertyDescriptor {
  const known = descriptors.get(table)
  if (known !== undefined) return known
  const made: PropertyDescriptor = {
    enumerable: true,
    get(this: object) {
      const rows = waitingIn.get(this)?.get(table)
      invariant(rows !== undefined, 'a table is read from the plan that it stands in')
      return tableOfRows(rows)
    },
  }
  descriptors.set(table, made)
  return made
}

/** A frozen plan with other tables, some of them as rows. What is not named keeps its identity. */
export function planWith(plan: Plan, others: Partial<Plan>, rows: Waiting): Plan {
  const before = waitingIn.get(plan)
  const waiting = new Map<TableName, Rows<AnyRecord>>()
  const next: { [key: string]: unknown } = {}
  for (const key of Object.keys(plan) as (keyof Plan)[]) {
    const table = key as TableName
    const stand = rows.get(table) ?? (Object.hasOwn(others, key) ? undefined : before?.get(table))
    if (stand === undefined) next[key] = Object.hasOwn(others, key) ? others[key] : plan[key]
    else {
      Object.defineProperty(next, key, descriptorOf(table))
      waiting.set(table, stand)
    }
  }
  if (waiting.size > 0) waitingIn.set(next, waiting)
  // All keys of a plan were put into it.
  return Object.freeze(next) as unknown as Plan
}

/** A plan, or as much of it as holds these tables. */
export type PlanTablesOf<T extends TableName> = { readonly [K in T]: Table<PlanTables[K]> }

/** The rows as which a table stands in a plan; null: it stands there as an object. */
export const rowsStanding = <T extends TableName>(plan: PlanTablesOf<T>, table: T): Rows<PlanTables[T]> | null =>
  (waitingIn.get(plan)?.get(table) as Rows<PlanTables[T]> | undefined) ?? null

/** Rows of a table of a plan; one that stands there as rows is not listed for it. */
export const planRows = <T extends TableName>(plan: PlanTablesOf<T>, table: T): Rows<PlanTables[T]> =>
  rowsStanding(plan, table) ?? rowsOfTable<PlanTables[T]>(plan[table])

/** The records of a table of a plan in their order. */
export const planRecords = <T extends TableName>(plan: PlanTablesOf<T>, table: T): readonly PlanTables[T][] =>
  planRows(plan, table).values.list()

/** Asked in every step of a drag: listing the keys of a large table would take longer than the step. */
export const planHasAny = <T extends TableName>(plan: PlanTablesOf<T>, table: T): boolean => planRows(plan, table).values.length > 0
