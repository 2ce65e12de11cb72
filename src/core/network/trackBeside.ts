import { boxesOverlap, boxGrow, pathBoxKept, pathNearest, pathPoseAt } from '../geom/index.ts'
import type { Id } from '../plan/types.ts'
import type { NetworkTrack } from './types.ts'

/** Places of a line that are looked at. */
const lookedAt = 96
/** A track lies beside another where so much of it does; less is a crossing, or where both leave one host. */
const share = 1 / 4
/** So many times the centres of its class apart, nobody takes two tracks for neighbours. */
const mostCentres = 2

/** A track that lies beside another one: the least and the most from centreline to centreline, and along how much of it. */
export interface TrackBeside {
  readonly track: Id
  readonly leastMm: number
  readonly mostMm: number
  readonly alongMm: number
}

/**
 * The track that lies beside one, along most of it; null: none does along a quarter of it.
 *
 * Units:      mm.
 * Exactness:  of places at equal steps, a 96th of the track: least and most are theirs. A place counts where the other track has one square
 *             across from it, no farther than twice the centres of the class.
 * Throws:     never.
 */
export function trackBeside(tracks: Iterable<NetworkTrack>, { track: own, lineClass, alignment }: NetworkTrack): TrackBeside | null {
  if (!alignment.ok) return null
  const { path } = alignment
  const withinMm = mostCentres * lineClass.trackCentresMm
  const near = boxGrow(pathBoxKept(path), withinMm)
  let best: TrackBeside | null = null
  for (const { track, alignment: other } of tracks) {
    if (track.id === own.id || !other.ok || !boxesOverlap(near, pathBoxKept(other.path))) continue
    const { lengthMm } = other.path
    const gaps = Array.from({ length: lookedAt }, (_, i) =>
      pathNearest(other.path, pathPoseAt(path, ((i + 0.5) / lookedAt) * path.lengthMm)),
    )
      .filter(({ stationMm, distanceMm }) => distanceMm < withinMm && stationMm > 1e-6 && stationMm < lengthMm - 1e-6)
      .map(({ distanceMm }) => distanceMm)
    const alongMm = (gaps.length / lookedAt) * path.lengthMm
    if (gaps.length < lookedAt * share || (best !== null && alongMm <= best.alongMm)) continue
    best = { track: track.id, leastMm: Math.min(...gaps), mostMm: Math.max(...gaps), alongMm }
  }
  return best
}
