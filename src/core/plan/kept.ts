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

function areSame(before: readonly unknown[], now: readonly unknown[]): boolean {
  for (let i = 0; i < now.length; i++) if (before[i] !== now[i]) return false
  return true
}
