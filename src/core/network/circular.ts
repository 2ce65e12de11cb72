import { recordFind, planRecords } from '../plan/index.ts'
import type { Id, Plan, Track } from '../plan/types.ts'

/** Tracks in the order in which they can be solved, and the rings of tracks that hang on each other and cannot. */
export interface TrackOrder {
  readonly ordered: readonly Track[]
  /** Every track of a ring with the ring it is in, from its lowest id on. */
  readonly circular: ReadonlyMap<Id, readonly Id[]>
}

/** Tracks on which a track hangs: hosts of the turnouts at whose legs it starts and ends. */
function trackHosts(plan: Plan, track: Track): Id[] {
  return [track.start, track.end].flatMap((end) => {
    const turnout = end.kind === 'leg' ? recordFind(plan, 'turnouts', end.turnout) : null
    return turnout && recordFind(plan, 'tracks', turnout.track) ? [turnout.track] : []
  })
}

/**
 * Order of solving: a track after all the tracks on whose turnouts it begins or ends.
 *
 * Tracks in a ring, and those that hang on one, come last in the plan's order. Of a track in two rings the one on which
 * it starts is told. The same plan gives the same answer, whatever was asked before.
 */
export function trackOrder(plan: Plan): TrackOrder {
  const tracks = planRecords(plan, 'tracks')
  // Most tracks of a large plan hang on nothing, and then there is nothing to order.
  if (tracks.every(({ start, end }) => start.kind !== 'leg' && end.kind !== 'leg')) return { ordered: tracks, circular: new Map() }
  const hosts = new Map(tracks.map((track) => [track.id, trackHosts(plan, track)]))
  const waiting = new Map(tracks.map((track) => [track.id, hosts.get(track.id)?.length ?? 0]))
  const guests = new Map<Id, Track[]>()
  for (const track of tracks) {
    for (const host of hosts.get(track.id) ?? []) {
      const list = guests.get(host)
      if (list) list.push(track)
      else guests.set(host, [track])
    }
  }
  const ordered = tracks.filter((track) => waiting.get(track.id) === 0)
  // The list grows while it is walked: each solved track frees those that waited for it.
  for (const host of ordered) {
    for (const guest of guests.get(host.id) ?? []) {
      const left = (waiting.get(guest.id) ?? 0) - 1
      waiting.set(guest.id, left)
      if (left === 0) ordered.push(guest)
    }
  }
  const unsolved = tracks.filter((track) => (waiting.get(track.id) ?? 0) > 0)
  return { ordered: [...ordered, ...unsolved], circular: ringsAmong(unsolved, hosts, waiting) }
}

function ringsAmong(
  unsolved: readonly Track[],
  hosts: ReadonlyMap<Id, readonly Id[]>,
  waiting: ReadonlyMap<Id, number>,
): ReadonlyMap<Id, readonly Id[]> {
  const circular = new Map<Id, readonly Id[]>()
  const seen = new Set<Id>()
  for (const { id } of unsolved) {
    const way: Id[] = []
    let at: Id | undefined = id
    while (at !== undefined && !seen.has(at)) {
      seen.add(at)
      way.push(at)
      at = hosts.get(at)?.find((host) => (waiting.get(host) ?? 0) > 0)
    }
    const closesAt = at === undefined ? -1 : way.indexOf(at)
    if (closesAt < 0) continue
    const ring = way.slice(closesAt)
    const lowest = ring.reduce((best, other, index) => (other < (ring[best] ?? other) ? index : best), 0)
    const through = [...ring.slice(lowest), ...ring.slice(0, lowest)]
    for (const member of ring) circular.set(member, through)
  }
  return circular
}
