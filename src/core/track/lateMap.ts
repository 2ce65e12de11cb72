import type { Id } from '../plan/types.ts'

/** A map that has the keys of another one; each value is made when it is first asked for, and kept. */
export class LateMap<V> implements ReadonlyMap<Id, V> {
  readonly #keys: ReadonlyMap<Id, unknown>
  readonly #make: (id: Id) => V | undefined
  readonly #made = new Map<Id, V>()

  constructor(keys: ReadonlyMap<Id, unknown>, make: (id: Id) => V | undefined) {
    this.#keys = keys
    this.#make = make
  }

  get size(): number {
    return this.#keys.size
  }

  has(id: Id): boolean {
    return this.#keys.has(id)
  }

  get(id: Id): V | undefined {
    const known = this.#made.get(id)
    if (known !== undefined || !this.#keys.has(id)) return known
    const value = this.#make(id)
    if (value !== undefined) this.#made.set(id, value)
    return value
  }

  keys(): MapIterator<Id> {
    return this.#keys.keys()
  }

  *entries(): Generator<[Id, V], undefined> {
    for (const id of this.#keys.keys()) {
      const value = this.get(id)
      if (value !== undefined) yield [id, value]
    }
    return undefined
  }

  *values(): Generator<V, undefined> {
    for (const [, value] of this.entries()) yield value
    return undefined
  }

  [Symbol.iterator](): Generator<[Id, V], undefined> {
    return this.entries()
  }

  forEach(each: (value: V, id: Id, map: ReadonlyMap<Id, V>) => void): void {
    for (const [id, value] of this.entries()) each(value, id, this)
  }
}
