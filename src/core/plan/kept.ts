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
