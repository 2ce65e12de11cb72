import { elementEnd } from '../geom/index.ts'

/** The easement of a corner by itself: from its tangent end at the origin, heading +x, turning left into radius R. */
export interface Spiral {
  readonly lengthMm: number
  /** Heading at the end of the spiral: L / 2R. */
  readonly angleRad: number
  /** End point. */
  readonly xMm: number
  readonly yMm: number
  /** p: how far the circle of radius R stands off the tangent. */
  readonly shiftMm: number
  /** k: from the spiral's start to the foot of the circle's centre on the tangent. */
  readonly kMm: number
}

/** Under this angle the end's ordinate, a third of angle times length, is nothing beside the length in doubles. */
const FLAT_RAD = 1e-100

/**
 * The clothoid of length L that ends with radius R, with its shift p and k.
 *
 * Units:      mm, rad.
 * Domain:     lengthMm >= 0, radiusMm > 0. Length zero gives the bare circle: all values zero.
 * Exactness:  that of the element's end pose; no series in L/R is cut here. The circle that the spiral runs into
 *             has its centre on the normal at the end point (X, Y, theta):
 *               k = X - R sin(theta),  p = Y - R (1 - cos(theta)).
 * Throws:     never.
 * Source:     the definition of the clothoid, curvature = s / (R L).
 */
export function spiralSolve(lengthMm: number, radiusMm: number): Spiral {
  if (lengthMm === 0) return { lengthMm: 0, angleRad: 0, xMm: 0, yMm: 0, shiftMm: 0, kMm: 0 }
  // All spirals of one angle are alike: solved for radius 1, so that no size of number can overflow on the way.
  const angleRad = lengthMm / (2 * radiusMm)
  const end =
    angleRad < FLAT_RAD ? { x: 2 * angleRad, y: 0 } : elementEnd({ lengthMm: 2 * angleRad, k0: 0, k1: 1 }, { x: 0, y: 0, headingRad: 0 })
  // 1 - cos loses digits for flat spirals; twice the squared half sine does not.
  const half = Math.sin(angleRad / 2)
  return {
    lengthMm,
    angleRad,
    xMm: radiusMm * end.x,
    yMm: radiusMm * end.y,
    shiftMm: radiusMm * (end.y - 2 * half * half),
    kMm: radiusMm * (end.x - Math.sin(angleRad)),
  }
}
