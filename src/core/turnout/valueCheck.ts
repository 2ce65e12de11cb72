import type { TurnoutRequest, ValueBounds } from './types.ts'

/** Largest length that a request may hold, mm: full size itself, a hundred metres of rail, lies well inside. */
const mostLengthMm = 1e5
const leastLengthMm = 1e-3
/** Ties nearer than this part of the gauge would be thousands. */
const leastSpacingPerGauge = 0.1
/** A tie longer than this many gauges would make a turnout of hundreds of long ties; the longest there are, on narrow gauge, have three. */
const mostTieGauges = 10

/** A value that cannot be built, and what would do. */
export interface BadValue<K extends string> extends ValueBounds {
  readonly where: K
  readonly value: number
}

/** The first of some lengths that is none; null: all are. NaN and infinities are caught here. */
export function badLength<K extends string>(request: Readonly<Record<K, number>>, keys: readonly K[]): BadValue<K> | null {
  const where = keys.find((key) => !(request[key] >= leastLengthMm && request[key] <= mostLengthMm))
  return where === undefined ? null : { where, value: request[where], least: leastLengthMm, most: mostLengthMm, because: '' }
}

type Measures = Pick<
  TurnoutRequest,
  | 'gaugeMm'
  | 'ratio'
  | 'flangewayMm'
  | 'checkGaugeMm'
  | 'railHeadMm'
  | 'railFootMm'
  | 'pointThicknessMm'
  | 'heelSpreadMm'
  | 'tieLengthMm'
  | 'tieWidthMm'
  | 'tieSpacingMm'
>

/** The first measure of special work that cannot be built beside the others, all of them lengths already; null: none. */
export function badMeasure(request: Measures): BadValue<keyof Measures> | null {
  const { gaugeMm: gauge, ratio, flangewayMm, checkGaugeMm, railHeadMm, railFootMm, pointThicknessMm, heelSpreadMm } = request
  const { tieLengthMm, tieWidthMm, tieSpacingMm } = request
  const bad = (where: keyof Measures, least: number | null, most: number | null, because = ''): BadValue<keyof Measures> => ({
    where,
    value: request[where],
    least,
    most,
    because,
  })
  if (!(ratio >= 0.1 && ratio <= 1e4)) return bad('ratio', 0.1, 1e4)
  if (!(pointThicknessMm >= 0 && pointThicknessMm <= railHeadMm)) return bad('pointThicknessMm', 0, railHeadMm, 'a rail head')
  if (railFootMm < railHeadMm) return bad('railFootMm', railHeadMm, null, 'the rail head')
  if (flangewayMm >= gauge / 4) return bad('flangewayMm', null, gauge / 4, 'a quarter of the gauge')
  if (checkGaugeMm >= gauge || checkGaugeMm <= gauge / 2) return bad('checkGaugeMm', gauge / 2, gauge, 'half the gauge and the gauge')
  if (heelSpreadMm <= pointThicknessMm || heelSpreadMm >= gauge) {
    return bad('heelSpreadMm', pointThicknessMm, gauge, 'the point thickness and the gauge')
  }
  const leastSpacing = gauge * leastSpacingPerGauge
  if (tieSpacingMm < leastSpacing) return bad('tieSpacingMm', leastSpacing, null, 'a tenth of the gauge')
  if (tieWidthMm >= tieSpacingMm) return bad('tieWidthMm', null, tieSpacingMm, 'the tie spacing')
  if (tieLengthMm <= gauge || tieLengthMm > gauge * mostTieGauges) {
    return bad('tieLengthMm', gauge, gauge * mostTieGauges, 'the gauge and ten times the gauge')
  }
  return null
}
