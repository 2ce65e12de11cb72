/**
 * Crossover between parallel straights with two equal turnouts.
 *
 *   Put one track's centreline on y = 0, the other's on y = c. The crossover rises at the frog angle F. Frog A lies where its lower
 *   gauge line crosses y = G/2, frog B where its upper one crosses y = c - G/2. Square to the crossover the gauge lines are G apart,
 *   so abreast of A its centreline stands at y = G/2 + G/2 cos F, abreast of B at c - G/2 - G/2 cos F. The straight between is
 *     s = (c - G - G cos F) / sin F = (c - G) / sin F - G / tan F,
 *   and B lies ahead of A, along the tracks, by
 *     s cos F - G sin F = (c - G) / tan F - G / sin F.
 *
 * Units:      mm, rad.
 * Domain:     c > G > 0, 0 < F < a right angle.
 * Exactness:  up to rounding. frogToFrog and straightBetween are between the theoretical points, along the tracks and along the
 *             crossover; they are negative where the frogs overlap. pointsToPoints adds a lead at each end.
 * Source:     derived above.
 */
export function crossoverFigures(request: {
  readonly gaugeMm: number
  readonly centresMm: number
  readonly frogAngleRad: number
  readonly leadMm: number
}): { readonly frogToFrogMm: number; readonly pointsToPointsMm: number; readonly straightBetweenMm: number } {
  const { gaugeMm, centresMm, frogAngleRad, leadMm } = request
  const sin = Math.sin(frogAngleRad)
  const tan = Math.tan(frogAngleRad)
  const frogToFrogMm = (centresMm - gaugeMm) / tan - gaugeMm / sin
  return { frogToFrogMm, pointsToPointsMm: frogToFrogMm + 2 * leadMm, straightBetweenMm: (centresMm - gaugeMm) / sin - gaugeMm / tan }
}

/** Centres at which the straight between the frogs of a crossover is this long: the formula above, turned round. */
export function crossoverCentres(gaugeMm: number, frogAngleRad: number, straightMm: number): number {
  return gaugeMm + straightMm * Math.sin(frogAngleRad) + gaugeMm * Math.cos(frogAngleRad)
}

/**
 * Straight ladder of equal turnouts at the frog angle.
 *
 *   Each turnout on the ladder turns its leg back by F, parallel to the body. Where legs cross the ladder's line they stand a pitch P
 *   apart; square to the body that is P sin F = c, along it P cos F. Frogs stand as far apart as the crossings, being equal.
 *     along the ladder  P = c / sin F        along the body  c / tan F
 *   A body track that joins two such ladders loses c / tan F at each end against the one before it.
 *
 * Units:      mm, rad.
 * Domain:     c > 0, 0 < F < a right angle.
 * Exactness:  up to rounding. Whether the next points clear the last frog is for the turnout's own length to say: P must exceed it.
 * Source:     derived above.
 */
export function ladderFigures(request: { readonly centresMm: number; readonly frogAngleRad: number }): {
  readonly pitchAlongLadderMm: number
  readonly pitchAlongBodyMm: number
  readonly shorterByMm: number
} {
  const { centresMm, frogAngleRad } = request
  const pitchAlongBodyMm = centresMm / Math.tan(frogAngleRad)
  return { pitchAlongLadderMm: centresMm / Math.sin(frogAngleRad), pitchAlongBodyMm, shorterByMm: 2 * pitchAlongBodyMm }
}
