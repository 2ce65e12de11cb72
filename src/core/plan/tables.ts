import { rowsStanding } from './planRows.ts'
import type { PlanTablesOf } from './planRows.ts'
import type { Id, Plan, PlanTables, TableName } from './types.ts'

/** Version of the plan document that this program writes. */
export const planVersion = 6

/** What a new id of each table begins with. A table added to `PlanTables` does not compile until it has a row here. */
const idPrefixes: { readonly [T in TableName]: string } = {
  materials: 'material',
  stocks: 'stock',
  lineClasses: 'class',
  vehicles: 'car',
  walls: 'wall',
  obstacles: 'obstacle',
  openings: 'opening',
  benchworks: 'benchwork',
  hatches: 'hatch',
  joists: 'joist',
  tracks: 'track',
  turnouts: 'turnout',
  crossings: 'crossing',
  portals: 'portal',
  railJoints: 'joint',
  makers: 'maker',
  silences: 'silence',
  ticks: 'tick',
  guides: 'guide',
  readings: 'reading',
  underlays: 'picture',
  locks: 'lock',
}

/** All tables, in the order in which they are written: a record refers only to tables that stand before its own or beside it. */
export const tableNames = Object.keys(idPrefixes) as readonly TableName[]

/**
 * A record by its id.
 *
 * Outcome: null when the table has no such record. Asks for own keys only, so a word such as 'constructor' finds nothing.
 */
export function recordFind<T extends TableName>(plan: PlanTablesOf<T>, table: T, id: Id): PlanTables[T] | null {
  const rows = rowsStanding(plan, table)
  if (rows !== null) return rows.values.at(rows.keys.placeOf.get(id) ?? -1) ?? null
  const records = plan[table]
  return Object.hasOwn(records, id) ? (records[id] ?? null) : null
}

/**
 * The next free id of a table: its word and the number after the highest in use ('track-4').
 *
 * Exactness: depends on the plan alone, so the same commands give the same ids everywhere.
 */
export function planNextId(plan: Plan, table: TableName): Id {
  return idNext(idPrefixes[table], Object.keys(plan[table]))
}

/** The next free id of a corner within its track ('pi-3'). */
export function cornerNextId(corners: readonly { readonly id: Id }[]): Id {
  return idNext(
    'pi',
    corners.map((corner) => corner.id),
  )
}

function idNext(prefix: string, taken: readonly Id[]): Id {
  let highest = 0
  for (const id of taken) {
    const digits = id.startsWith(`${prefix}-`) ? id.slice(prefix.length + 1) : ''
    if (/^[1-9]\d{0,8}$/.test(digits)) highest = Math.max(highest, Number(digits))
  }
  return `${prefix}-${highest + 1}`
}

/**
 * Order of ids in a table: by their words, numbers by value, so that track-2 stands before track-10.
 * Tables are always kept in this order; equal plans are then written as equal files.
 */
export function idCompare(a: Id, b: Id): number {
  const left = idParts(a)
  const right = idParts(b)
  if (left.word !== right.word) return left.word < right.word ? -1 : 1
  if (left.number !== right.number) return left.number - right.number
  return a < b ? -1 : a > b ? 1 : 0
}

function idParts(id: Id): { readonly word: string; readonly number: number } {
  const match = /^(.*?)(\d{1,9})$/.exec(id)
  return match === null ? { word: id, number: -1 } : { word: match[1] ?? '', number: Number(match[2]) }
}
