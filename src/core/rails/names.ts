import type { Plan } from '../plan/types.ts'
import { ownerKey } from './runs.ts'

/**
 * Short names for the marks on pieces: first letters and numbers of a track's or turnout's name, made unique by a number behind them.
 * Records keep theirs in the plan's order, so that what is added later renames nothing that was there.
 */
export function shortNames(plan: Plan, crossings: Iterable<string>): ReadonlyMap<string, string> {
  const taken = new Set<string>()
  const names = new Map<string, string>()
  const add = (key: string, name: string, fallback: string): void => {
    const short = shortOf(name) || fallback
    let unique = short
    for (let n = 2; taken.has(unique); n++) unique = `${short}.${n}`
    taken.add(unique)
    names.set(key, unique)
  }
  for (const { id, name } of Object.values(plan.tracks)) add(ownerKey({ kind: 'track', track: id }), name, 'T')
  for (const { id, name } of Object.values(plan.turnouts)) add(ownerKey({ kind: 'turnout', turnout: id }), name, 'SW')
  for (const id of crossings) add(ownerKey({ kind: 'crossing', crossing: id }), plan.crossings[id]?.name ?? '', 'X')
  return names
}

function shortOf(name: string): string {
  const words = name.match(/\p{L}+|\p{N}+/gu) ?? []
  return words.map((word) => (/^\p{N}/u.test(word) ? word : word.slice(0, 1).toUpperCase())).join('')
}
