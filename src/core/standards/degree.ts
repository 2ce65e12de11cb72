/** 100 ft, the chord or arc that the degree of curve is defined on. mm, full size. */
export const DEGREE_CHORD_MM = 30480

/** 'chord': railways, R = 50 ft / sin(D/2). 'arc': highways, R = 100 ft / D. They part above about 6 degrees. */
export type DegreeDefinition = 'chord' | 'arc'

/**
 * Radius of a curve given by its degree.
 *
 * Units:      degree in rad; result in the unit of `chordMm` (mm at full size by default).
 * Domain:     0 < degree <= pi (chord: the half angle reaches 90 degrees there).
 * Exactness:  exact up to rounding. Outcome: null outside the domain.
 * Source:     [ROUTE-SURVEYING ch. simple curves]
 */
export function degreeOfCurveToRadius(degreeRad: number, definition: DegreeDefinition, chordMm: number = DEGREE_CHORD_MM): number | null {
  if (!(degreeRad > 0 && degreeRad <= Math.PI)) return null
  return definition === 'chord' ? chordMm / 2 / Math.sin(degreeRad / 2) : chordMm / degreeRad
}

/** Degree of a curve given by its radius, rad: the inverse of degreeOfCurveToRadius. Null when the chord does not fit the circle. */
export function degreeOfCurveFromRadius(radiusMm: number, definition: DegreeDefinition, chordMm: number = DEGREE_CHORD_MM): number | null {
  if (!(radiusMm > 0) || !Number.isFinite(radiusMm)) return null
  if (definition === 'arc') return chordMm / radiusMm <= Math.PI ? chordMm / radiusMm : null
  const half = chordMm / 2 / radiusMm
  return half <= 1 ? 2 * Math.asin(half) : null
}
