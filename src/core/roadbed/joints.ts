import type { Stretch } from '../network/index.ts'
import { zonesJoined } from './stretches.ts'

/** What a line of strip is cut from and where it may be joined: along the strip from its start. */
export interface JointRequest {
  readonly lengthMm: number
  readonly longestMm: number
  /** No piece of a line that is joined is shorter. */
  readonly leastMm: number
  /** Open stretches in which no joint lies. */
  readonly forbidden: readonly Stretch[]
}

/** Rounding of stations, mm. */
const slackMm = 1e-6

/**
 * Joints of a line of strip such that it has as few pieces as can be, and of these the last ones as long as can be: what is left over of a
 * length is at the beginning. null: there is no such set.
 *
 * After k pieces the line can end anywhere in a union of intervals: those after k - 1 pieces, each grown by a piece, less what is
 * forbidden. The joints are then found from the end. Exact. Domain: lengths above 0, least at most longest.
 */
export function jointsPlaced({ lengthMm, longestMm, leastMm, forbidden }: JointRequest): readonly number[] | null {
  if (lengthMm <= longestMm + slackMm) return []
  const zones = zonesJoined(forbidden)
  const reached: (readonly Stretch[])[] = [[{ fromMm: 0, toMm: 0 }]]
  // Of fewest pieces any two neighbours are together longer than the longest: else they were one.
  const mostPieces = Math.ceil((2 * lengthMm) / longestMm) + 1
  for (let pieces = 1; ; pieces++) {
    const from = reached.at(-1) ?? []
    const grown = zonesJoined(from.map((one) => ({ fromMm: one.fromMm + leastMm, toMm: one.toMm + longestMm })))
    if (grown.some(({ fromMm, toMm }) => fromMm - slackMm <= lengthMm && lengthMm <= toMm + slackMm)) break
    const next = lessZones(
      grown.flatMap(({ fromMm, toMm }) => (fromMm < lengthMm ? { fromMm, toMm: Math.min(toMm, lengthMm) } : [])),
      zones,
    )
    if (next.length === 0 || pieces >= mostPieces) return null
    reached.push(next)
  }
  const joints: number[] = []
  let end = lengthMm
  for (const places of reached.slice(1).toReversed()) {
    const at = earliest(places, end - longestMm, end - leastMm)
    if (at === null) return null
    joints.push(at)
    end = at
  }
  return joints.toReversed()
}

/** The least value of intervals that lies in a stretch, rounding forgiven. */
function earliest(places: readonly Stretch[], fromMm: number, toMm: number): number | null {
  for (const place of places) {
    const at = Math.max(place.fromMm, fromMm)
    if (at <= Math.min(place.toMm, toMm) + slackMm) return Math.min(at, place.toMm)
  }
  return null
}

/** Closed intervals less open zones, both in order. */
function lessZones(intervals: readonly Stretch[], zones: readonly Stretch[]): readonly Stretch[] {
  return intervals.flatMap(({ fromMm, toMm }) => {
    const out: Stretch[] = []
    let at = fromMm
    for (const zone of zones) {
      if (zone.toMm <= at || zone.fromMm >= toMm) continue
      if (zone.fromMm >= at) out.push({ fromMm: at, toMm: zone.fromMm })
      at = Math.max(at, zone.toMm)
    }
    if (at <= toMm) out.push({ fromMm: at, toMm })
    return out
  })
}
