import type { Keep } from './ValueField.tsx'

/** For what a form holds until it is done: whatever reads well is taken. */
export function keepIn<V>(take: (value: V) => void): Keep<V> {
  return {
    commit: (value) => {
      take(value)
      return null
    },
  }
}
