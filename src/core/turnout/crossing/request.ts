import { badLength, badMeasure } from '../valueCheck.ts'
import type { CrossingProblem, CrossingRequest, CrossingValue } from './types.ts'

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
  const found = badLength(request, lengthKeys) ?? badMeasure(request)
  return found === null ? null : { kind: 'badValue', ...found }
}
