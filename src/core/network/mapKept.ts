import type { Id } from '../plan/types.ts'

/** The old map where the new one has the same values under the same keys in the same order. */
export function mapKept<V>(before: ReadonlyMap<Id, V> | undefined, after: ReadonlyMap<Id, V>): ReadonlyMap<Id, V> {
  if (!before || before.size !== after.size) return after
  const old = before.entries()
  for (const [id, value] of after) {
    const entry = old.next().value
    if (entry === undefined || entry[0] !== id || entry[1] !== value) return after
  }
  return before
}
