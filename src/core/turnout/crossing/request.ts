import type { CrossingProblem, CrossingRequest, CrossingValue } from './types.ts'

/** Largest and least length that a request may hold, mm. */
const mostLengthMm = 1e5
const leastLengthMm = 1e-3

const lengthKeys = [
  'gaugeMm',
  'flangewayMm',
  'checkGaugeMm',
  'railHeadMm',
  'railFootMm',
  'heelSpreadMm',
  'tieLengthMm',
  'tieWidthMm',
  'tieSpacingMm',
  'wheelDiameterMm',
  'flangeDepthMm',
] as const satisfies readonly CrossingValue[]

/** The first value of a request that cannot be built; null: none. NaN and infinities are caught here. Never throws. */
export function crossingValueProblem(request: CrossingRequest): CrossingProblem | null {
  const bad = (where: CrossingValue, least: number | null, most: number | null): CrossingProblem => ({
    kind: 'badValue',
    where,
    value: request[where],
    least,
    most,
  })
  for (const where of lengthKeys) {
    const value = request[where]
    if (!(value >= leastLengthMm && value <= mostLengthMm)) return bad(where, leastLengthMm, mostLengthMm)
  }
  const { gaugeMm: gauge, flangewayMm, railHeadMm, checkGaugeMm, pointThicknessMm, heelSpreadMm, ratio, tieWidthMm, tieSpacingMm } = request
  if (!(ratio >= 0.1 && ratio <= 1e4)) return bad('ratio', 0.1, 1e4)
  if (!(pointThicknessMm >= 0 && pointThicknessMm <= railHeadMm)) return bad('pointThicknessMm', 0, railHeadMm)
  if (flangewayMm >= gauge / 4) return bad('flangewayMm', null, gauge / 4)
  if (checkGaugeMm >= gauge || checkGaugeMm <= gauge / 2) return bad('checkGaugeMm', gauge / 2, gauge)
  if (heelSpreadMm <= pointThicknessMm || heelSpreadMm >= gauge) return bad('heelSpreadMm', pointThicknessMm, gauge)
  if (tieWidthMm >= tieSpacingMm) return bad('tieWidthMm', null, tieSpacingMm)
  return null
}
