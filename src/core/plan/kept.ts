/**
 * A function that remembers its last result for each object, as long as everything else it was made from is the same object
 * or number. Records are frozen, so the same object means the same contents.
 */
export function keptFor<K extends object, D extends readonly unknown[], V>(make: (key: K, ...rest: D) => V): (key: K, ...rest: D) => V {
  const kept = new WeakMap<K, { readonly rest: D; readonly value: V }>()
  return (key, ...rest) => {
    const before = kept.get(key)
    if (before !== undefined && areSame(before.rest, rest)) return before.value
    const value = make(key, ...rest)
    kept.set(key, { rest, value })
    return value
  }
}

interface InTurn<K, D, V> {
  readonly key: K
  readonly rest: D
  readonly value: V
  next: InTurn<K, D, V> | null
}

/**
 * The same for all records of a list in turn, again and again: what was asked for next the last time nearly always is again, and is found
 * without being looked up. What it holds of the last turn lives as long as the function.
 *
 * Not for some of a list now and then: each that was asked about holds the next, and the row would never end.
 */
export function keptInTurn<K extends object, D extends readonly unknown[], V>(make: (key: K, ...rest: D) => V): (key: K, ...rest: D) => V {
  const kept = new WeakMap<K, InTurn<K, D, V>>()
  let last: InTurn<K, D, V> | null = null
  return (key, ...rest) => {
    const guess: InTurn<K, D, V> | null = last === null ? null : last.next
    const before = guess !== null && guess.key === key ? guess : kept.get(key)
    let now = before
    if (now === undefined || !areSame(now.rest, rest)) {
      now = { key, rest, value: make(key, ...rest), next: (before ?? guess)?.next ?? null }
      kept.set(key, now)
    }
    if (last !== null) last.next = now
    last = now
    return now.value
  }
}

/** The same for two objects at once: each pair has its own result. */
export function keptForPairs<A extends object, B extends object, V>(make: (a: A, b: B) => V): (a: A, b: B) => V {
  const kept = new WeakMap<A, WeakMap<B, { readonly value: V }>>()
  return (a, b) => {
    let ofA = kept.get(a)
    if (ofA === undefined) {
      ofA = new WeakMap()
      kept.set(a, ofA)
    }
    const before = ofA.get(b)
    if (before !== undefined) return before.value
    const value = make(a, b)
    ofA.set(b, { value })
    return value
  }
}

/** The same for what is made from a list of objects, however many they are; the list is compared one by one. */
export function keptOn<K extends object, V>(): (key: K, madeFrom: readonly unknown[], make: () => V) => V {
  const kept = new WeakMap<K, { readonly madeFrom: readonly unknown[]; readonly value: V }>()
  return (key, madeFrom, make) => {
    const before = kept.get(key)
    if (before?.madeFrom.length === madeFrom.length && areSame(before.madeFrom, madeFrom)) return before.value
    const value = make()
    kept.set(key, { madeFrom, value })
    return value
  }
}

/** What is made when it is first asked for, and then kept. */
export function late<T extends object>(make: () => T): () => T {
  let made: T | null = null
  return () => (made ??= make())
}

/** Places at which lists hold other objects, rising; null: they are of unlike length. */
export function placesOtherwise<T>(before: readonly T[], now: readonly T[]): readonly number[] | null {
  if (before.length !== now.length) return null
  const places: number[] = []
  for (let place = 0; place < now.length; place++) if (before[place] !== now[place]) places.push(place)
  return places
}

/**
 * The same for all of a list at once, again and again: what is made of each, in their order, without those of which nothing is made (null).
 * What stands where it stood the last time is not asked about at all; where all does, the answer is the same list.
 */
export function keptForAll<K extends object, D extends readonly unknown[], V>(
  make: (key: K, ...rest: D) => V | null,
): (list: readonly K[], ...rest: D) => readonly V[] {
  interface Made {
    readonly list: readonly K[]
    readonly rest: D
    /** Each in its place. */
    readonly values: (V | null)[]
    readonly told: readonly V[]
  }
  const makeKept = keptFor(make)
  let last: Made | null = null
  return (list, ...rest) => {
    const before = last !== null && areSame(last.rest, rest) ? last : null
    const places = before === null ? null : placesOtherwise(before.list, list)
    // Should one of them fail, nothing is remembered by its place.
    last = null
    const values = before === null || places === null ? list.map((key) => makeKept(key, ...rest)) : before.values
    for (const place of places ?? []) values[place] = makeKept(list[place] as K, ...rest)
    const told = before !== null && places?.length === 0 ? before.told : values.filter((value) => value !== null)
    last = { list, rest, values, told }
    return told
  }
}

function areSame(before: readonly unknown[], now: readonly unknown[]): boolean {
  for (let i = 0; i < now.length; i++) if (before[i] !== now[i]) return false
  return true
}
