import { pathPoseAt } from '../geom/index.ts'
import type { Path } from '../geom/types.ts'
import type { CornerPoint, CornerPoints } from './corner.ts'
import type { CornerPlace } from './types.ts'

/**
 * TS, SC, CS and ST of a corner on the path it belongs to, with the path's stations.
 *
 * Domain:     a place of this path.
 * Exactness:  that of the path.
 * Throws:     InvariantError when the place is not of this path (a bug of the caller).
 */
export function cornerPlacePoints(path: Path, place: CornerPlace): CornerPoints {
  const pointAt = (stationMm: number): CornerPoint => {
    const { x, y, headingRad } = pathPoseAt(path, stationMm)
    return { stationMm, x, y, headingRad }
  }
  return { ts: pointAt(place.tsMm), sc: pointAt(place.scMm), cs: pointAt(place.csMm), st: pointAt(place.stMm) }
}
