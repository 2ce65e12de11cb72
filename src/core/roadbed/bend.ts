/**
 * Strain at the edge of a strip of width w that is bent in its plane to a middle line of radius R. Elementary bending: sections stay plane and
 * the middle keeps its length R a, so that the outer edge, (R + w/2) a long, is longer by w / 2R. mm; 0 on a straight (radius null).
 */
export function bendStrain(widthMm: number, radiusMm: number | null): number {
  return radiusMm === null ? 0 : widthMm / (2 * radiusMm)
}

/**
 * The largest strain of n strips side by side that make up a band on a line of radius R: that of the innermost, whose middle has the
 * radius R - (W - W/n) / 2. null: the band reaches the centre.
 */
export function bandStrain(bandMm: number, strips: number, radiusMm: number | null): number | null {
  if (radiusMm === null) return 0
  const widthMm = bandMm / strips
  const innermostMm = radiusMm - (bandMm - widthMm) / 2
  return radiusMm > bandMm / 2 ? bendStrain(widthMm, innermostMm) : null
}

/**
 * The widest strip of a band on a line of radius R that keeps a strain e, wherever in the band it lies.
 *
 * With w / 2 (R - (W - w)/2) <= e follows w <= 2 e (R - W/2) / (1 - e). 0: the band reaches the centre. null: any, the line is
 * straight. Derived. Domain: 0 < e < 1.
 */
export function widestStrip(bandMm: number, radiusMm: number | null, strainLimit: number): number | null {
  if (radiusMm === null) return null
  return radiusMm > bandMm / 2 ? (2 * strainLimit * (radiusMm - bandMm / 2)) / (1 - strainLimit) : 0
}

/** The radius of the line from which on a band of n strips keeps a strain: the inverse of bandStrain. */
export function radiusForStrips(bandMm: number, strips: number, strainLimit: number): number {
  const widthMm = bandMm / strips
  return (bandMm - widthMm) / 2 + widthMm / (2 * strainLimit)
}

/** A rounding of widths, in parts of one: a strip that is just narrow enough is. */
const grain = 1e-9

/**
 * As few strips as bend to a radius, none narrower than a least width; null: not even the narrowest do. A band narrower than the least width
 * is one strip.
 */
export function stripsThatBend(bandMm: number, radiusMm: number | null, strainLimit: number, leastMm: number): number | null {
  if (radiusMm === null) return 1
  const widest = widestStrip(bandMm, radiusMm, strainLimit) ?? bandMm
  if (!(widest > 0)) return null
  const strips = Math.max(1, Math.ceil(bandMm / widest - grain))
  return strips <= mostStrips(bandMm, leastMm) ? strips : null
}

/** So many strips of a least width make up a band. */
export function mostStrips(bandMm: number, leastMm: number): number {
  return Math.max(1, Math.floor(bandMm / leastMm + grain))
}
