import { pathFromElements, pathPoseAt } from '../geom/index.ts'
import type { Path, Pose } from '../geom/types.ts'
import { cornerElements, cornerJoins } from './cornerCurve.ts'
import type { CornerPlace, CornerSolution } from './types.ts'

/** A pose with its station on a path. */
export interface CornerPoint extends Pose {
  readonly stationMm: number
}

/**
 * TS tangent to spiral, SC spiral to curve, CS curve to spiral, ST spiral to tangent; of a compound curve also the joins of its
 * arcs, from the end of one to the start of the next.
 */
export interface CornerPoints {
  readonly ts: CornerPoint
  readonly sc: CornerPoint
  readonly joins: readonly { readonly from: CornerPoint; readonly to: CornerPoint }[]
  readonly cs: CornerPoint
  readonly st: CornerPoint
}

/**
 * The points of a corner on the path it belongs to, with the path's stations.
 *
 * Domain:     a place of this path.
 * Exactness:  that of the path. Without an easement TS and SC (or CS and ST, or both ends of a join) are one point.
 * Throws:     InvariantError when the place is not of this path (a bug of the caller).
 */
export function cornerPlacePoints(path: Path, place: Pick<CornerPlace, 'tsMm' | 'scMm' | 'joins' | 'csMm' | 'stMm'>): CornerPoints {
  const pointAt = (stationMm: number): CornerPoint => {
    const { x, y, headingRad } = pathPoseAt(path, stationMm)
    return { stationMm, x, y, headingRad }
  }
  return {
    ts: pointAt(place.tsMm),
    sc: pointAt(place.scMm),
    joins: place.joins.map(({ fromMm, toMm }) => ({ from: pointAt(fromMm), to: pointAt(toMm) })),
    cs: pointAt(place.csMm),
    st: pointAt(place.stMm),
  }
}

/**
 * The points of a corner in its own frame: TS at the origin heading +x, stations from TS.
 *
 * Units:      mm, rad.
 * Throws:     never.
 */
export function cornerPoints(corner: CornerSolution): CornerPoints {
  const path = pathFromElements({ x: 0, y: 0, headingRad: 0 }, cornerElements(corner))
  const scMm = corner.easementInMm
  const csMm = scMm + corner.arcLengthMm
  return cornerPlacePoints(path, { tsMm: 0, scMm, joins: cornerJoins(corner, scMm), csMm, stMm: path.lengthMm })
}
