import type { Id, Table } from './types.ts'
import { Values } from './values.ts'

/*
 * A table of thousands of records is changed in every step of a drag. Its keys stay the same meanwhile, so they are listed once and handed
 * on: records in blocks beside a shared list of keys are copied and compared in microseconds, where keys one by one take milliseconds.
 */

/** Keys in their order, each with its place. Shared by all that has the same keys. */
export interface Keys {
  readonly ids: readonly Id[]
  readonly placeOf: ReadonlyMap<Id, number>
}

export interface Rows<V> {
  readonly keys: Keys
  readonly values: Values<V>
}

export function keysOf(ids: readonly Id[]): Keys {
  return { ids, placeOf: new Map(ids.map((id, place) => [id, place])) }
}

const known = new WeakMap<object, Rows<unknown>>()

/** A table as two lists, made once for as long as the table lives. */
export function rowsOfTable<V>(table: Table<V>): Rows<V> {
  const before = known.get(table)
  if (before !== undefined) return before as Rows<V>
  const rows: Rows<V> = { keys: keysOf(Object.keys(table)), values: Values.of(Object.values(table)) }
  if (Object.isFrozen(table)) known.set(table, rows)
  return rows
}

const listed = new WeakMap<Rows<unknown>, object>()

/** A frozen table from its rows, listed once for as long as they live. */
export function tableOfRows<V>(rows: Rows<V>): Table<V> {
  const before = listed.get(rows)
  if (before !== undefined) return before as Table<V>
  const { ids } = rows.keys
  const table: { [id: Id]: V } = {}
  rows.values.forEach((value, place) => (table[ids[place] as Id] = value))
  Object.freeze(table)
  known.set(table, rows)
  listed.set(rows, table)
  return table
}

/** Rows with other values at some places. */
export function rowsWith<V>({ keys, values }: Rows<V>, changes: Iterable<readonly [place: number, value: V]>): Rows<V> {
  return { keys, values: values.with(changes) }
}

/** Places at which rows differ; null: their keys are not the same list. */
export function placesChanged<V>(before: Rows<V>, after: Rows<V>): readonly number[] | null {
  return before.keys === after.keys ? Values.changed(before.values, after.values) : null
}

/** One value of two maps of the same keys. */
export interface RowChange<V> {
  readonly id: Id
  readonly was: V
  readonly is: V
}

/** Rows as a map that is only read. */
export class RowMap<V> implements ReadonlyMap<Id, V> {
  readonly #rows: Rows<V>

  constructor(rows: Rows<V>) {
    this.#rows = rows
  }

  /** The rows of a map; null: it is another kind of map. */
  static rowsOf<V>(map: ReadonlyMap<Id, V>): Rows<V> | null {
    return map instanceof RowMap ? (map as RowMap<V>).#rows : null
  }

  /** What is otherwise in two maps of the same keys, in their order; null: some came or went, or no such maps. */
  static changed<V>(before: ReadonlyMap<Id, V>, now: ReadonlyMap<Id, V>): readonly RowChange<V>[] | null {
    const [was, is] = [RowMap.rowsOf(before), RowMap.rowsOf(now)]
    const places = was === null || is === null ? null : placesChanged(was, is)
    if (was === null || is === null || places === null) return null
    return places.map((place) => ({ id: is.keys.ids[place] as Id, was: was.values.at(place) as V, is: is.values.at(place) as V }))
  }

  get size(): number {
    return this.#rows.values.length
  }

  has(id: Id): boolean {
    return this.#rows.keys.placeOf.has(id)
  }

  get(id: Id): V | undefined {
    const place = this.#rows.keys.placeOf.get(id)
    return place === undefined ? undefined : this.#rows.values.at(place)
  }

  keys(): MapIterator<Id> {
    return this.#rows.keys.placeOf.keys()
  }

  values(): ArrayIterator<V> {
    return this.#rows.values[Symbol.iterator]()
  }

  *entries(): Generator<[Id, V], undefined> {
    const { keys, values } = this.#rows
    let place = 0
    for (const value of values) yield [keys.ids[place++] as Id, value]
    return undefined
  }

  [Symbol.iterator](): Generator<[Id, V], undefined> {
    return this.entries()
  }

  forEach(each: (value: V, id: Id, map: ReadonlyMap<Id, V>) => void): void {
    const { keys, values } = this.#rows
    values.forEach((value, place) => each(value, keys.ids[place] as Id, this))
  }
}
