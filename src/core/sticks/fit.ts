import type { Instance, Load } from './instance.ts'
import { loadWeight } from './instance.ts'

interface Open {
  source: number
  room: number
  readonly counts: number[]
}

/**
 * Pieces longest first, each into a stick with room: the first one, or the one where it fits most closely. A new stick is taken from what
 * is at hand, the longest first, else the longest that is bought; each bought one is in the end as short as its pieces allow.
 *
 * wanted: how many of each kind; used: sticks of each source that are gone already.
 */
export function fitLoads(
  instance: Instance,
  wanted: readonly number[],
  way: 'first' | 'closest',
  used: readonly number[] = [],
): readonly Load[] {
  const { kinds, sources } = instance
  const taken = sources.map((_, i) => used[i] ?? 0)
  const open: Open[] = []
  for (const [k, { weight }] of kinds.entries()) {
    for (let n = wanted[k] ?? 0; n > 0; n--) {
      const stick = stickFor(open, weight, way) ?? opened(instance, taken, open, weight)
      stick.room -= weight
      stick.counts[k] = (stick.counts[k] ?? 0) + 1
    }
  }
  return open.map(({ source, counts }) => shortest(instance, { source, counts }, taken))
}

function stickFor(open: readonly Open[], weight: number, way: 'first' | 'closest'): Open | undefined {
  if (way === 'first') return open.find(({ room }) => room >= weight)
  let best: Open | undefined
  for (const stick of open) if (stick.room >= weight && (best === undefined || stick.room < best.room)) best = stick
  return best
}

function opened({ kinds, sources }: Instance, taken: number[], open: Open[], weight: number): Open {
  let best = -1
  for (const [i, { room, limit, cost }] of sources.entries()) {
    if (room < weight || (taken[i] ?? 0) >= limit) continue
    const before = sources[best]
    const isAtHand = cost === 0
    if (before === undefined || (isAtHand && before.cost > 0) || (isAtHand === (before.cost === 0) && betterOf({ room, cost }, before)))
      best = i
  }
  taken[best] = (taken[best] ?? 0) + 1
  const stick = { source: best, room: sources[best]?.room ?? 0, counts: kinds.map(() => 0) }
  open.push(stick)
  return stick
}

/** Longer is better, unless it is what cannot be had. */
function betterOf(one: { readonly room: number; readonly cost: number }, other: { readonly room: number; readonly cost: number }): boolean {
  const isDear = ({ room, cost }: { readonly room: number; readonly cost: number }): boolean => cost > 2 * room
  return isDear(one) === isDear(other) ? one.room > other.room : !isDear(one)
}

/** The same pieces on the shortest stick that is bought and holds them. */
function shortest(instance: Instance, load: Load, taken: number[]): Load {
  const { sources } = instance
  const mine = sources[load.source]
  if (mine === undefined || mine.cost === 0) return load
  const weight = loadWeight(instance, load.counts)
  let best = load.source
  for (const [i, { room, cost, limit }] of sources.entries()) {
    if (cost > 0 && room >= weight && cost < (sources[best]?.cost ?? 0) && (taken[i] ?? 0) < limit) best = i
  }
  taken[load.source] = (taken[load.source] ?? 0) - 1
  taken[best] = (taken[best] ?? 0) + 1
  return { ...load, source: best }
}
