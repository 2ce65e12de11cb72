import type { Data } from '../data.ts'
import type { OldPlan } from '../migrate.ts'

export type Fields = { readonly [key: string]: Data }

export function isTable(data: Data | undefined): data is Fields {
  return typeof data === 'object' && data !== null && !Array.isArray(data)
}

/** A table of an old plan with each of its records changed; nothing where it is no table. */
export function recordsOf(plan: OldPlan, table: string, change: (record: Fields) => Fields): OldPlan {
  const records = plan[table]
  if (!isTable(records)) return {}
  return { [table]: Object.fromEntries(Object.entries(records).map(([id, record]) => [id, isTable(record) ? change(record) : record])) }
}
