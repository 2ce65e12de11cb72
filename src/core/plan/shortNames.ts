import type { Id, Plan } from './types.ts'

/** Short names by id; a crossing goes by the name that the network has for it. */
export interface ShortNames {
  readonly tracks: ReadonlyMap<Id, string>
  readonly turnouts: ReadonlyMap<Id, string>
  readonly crossings: ReadonlyMap<string, string>
}

/**
 * Short names for the marks on pieces: first letters and numbers of a track's or turnout's name, made unique by a number behind them.
 * Records keep theirs in the plan's order, so that what is added later renames nothing that was there.
 */
export function shortNames(plan: Plan, crossings: Iterable<string>): ShortNames {
  const taken = new Set<string>()
  const unique = (name: string, fallback: string): string => {
    const short = shortOf(name) || fallback
    let free = short
    for (let n = 2; taken.has(free); n++) free = `${short}.${n}`
    taken.add(free)
    return free
  }
  return {
    tracks: new Map(Object.values(plan.tracks).map(({ id, name }) => [id, unique(name, 'T')])),
    turnouts: new Map(Object.values(plan.turnouts).map(({ id, name }) => [id, unique(name, 'SW')])),
    crossings: new Map([...crossings].map((id) => [id, unique(plan.crossings[id]?.name ?? '', 'X')])),
  }
}

function shortOf(name: string): string {
  const words = name.match(/\p{L}+|\p{N}+/gu) ?? []
  return words.map((word) => (/^\p{N}/u.test(word) ? word : word.slice(0, 1).toUpperCase())).join('')
}
