import type { WorkMeasures } from './types.ts'

/**
 * Flangeway of check rails that stand on both sides of a track, as in the middle of a crossing: each has to guard the wheel opposite like a guard
 * rail, and both together leave a span like guard and wing. The mean of both flangeways leaves that span; it takes half their difference off the check gauge.
 *
 *   G - 2 x = check gauge - flangeway    x = (flangeway + G - check gauge) / 2
 *
 * Units: mm. Source: derived.
 */
export function checkFlangeway(
  { flangewayMm, checkGaugeMm, checkFlangewayMm }: Pick<WorkMeasures, 'flangewayMm' | 'checkGaugeMm' | 'checkFlangewayMm'>,
  gaugeMm: number,
): number {
  return checkFlangewayMm ?? (flangewayMm + gaugeMm - checkGaugeMm) / 2
}
