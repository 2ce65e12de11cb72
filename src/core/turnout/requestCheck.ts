import { frogAngle, frogDistances } from './frog.ts'
import type { TurnoutProblem, TurnoutRequest } from './types.ts'

/** Frog numbers the equations are asked for. Below 2 the vee is no frog any more; above 30 no such frog was ever made. */
export const frogRange = { min: 2, max: 30 } as const

/** Largest length that a request may hold, mm: full size itself, a hundred metres of rail, lies well inside. */
const mostLengthMm = 1e5
const leastLengthMm = 1e-3
/** Past this angle at the tip a wheel would hit the point, not be led by it. */
const mostEntryRad = Math.PI / 6
/** Ties nearer than this part of the gauge would be thousands. */
const leastSpacingPerGauge = 0.1
/** Beyond the actual point the guarded part runs on by this many flangeways. */
export const coverBehindFlangeways = 2

const lengthKeys = [
  'gaugeMm',
  'pointLengthMm',
  'heelSpreadMm',
  'toeLengthMm',
  'heelLengthMm',
  'flangewayMm',
  'checkGaugeMm',
  'railHeadMm',
  'railFootMm',
  'tieLengthMm',
  'tieWidthMm',
  'tieSpacingMm',
  'foulingMm',
] as const satisfies readonly (keyof TurnoutRequest)[]

/**
 * The first value of a request that cannot be built, whatever the others are solved to; null: none.
 *
 * Outcome:  what is wrong, where, and the bound that would do. NaN and infinities are caught here, so nothing behind
 *           this has to look for them. Never throws.
 */
export function requestProblem(request: TurnoutRequest): TurnoutProblem | null {
  const { frog, gaugeMm: gauge, flangewayMm: flangeway, railHeadMm: head } = request
  if (!(frog >= frogRange.min && frog <= frogRange.max)) return { kind: 'frogOutOfRange', frog, ...frogRange }

  const bad = (where: keyof TurnoutRequest, value: number, expected: string): TurnoutProblem => ({
    kind: 'badValue',
    where,
    value,
    expected,
  })
  for (const where of lengthKeys) {
    const value = request[where]
    if (!(value >= leastLengthMm && value <= mostLengthMm)) return bad(where, value, `${leastLengthMm} to ${mostLengthMm} mm`)
  }
  const {
    ratio,
    entryAngleRad,
    pointThicknessMm,
    heelSpreadMm,
    railFootMm,
    checkGaugeMm,
    tieSpacingMm,
    tieWidthMm,
    tieLengthMm,
    foulingMm,
  } = request
  if (!(ratio >= 0.1 && ratio <= 1e4)) return bad('ratio', ratio, '0.1 to 10000')
  if (!(entryAngleRad >= 0 && entryAngleRad <= mostEntryRad)) return bad('entryAngleRad', entryAngleRad, `0 to ${mostEntryRad} rad`)
  if (!(pointThicknessMm >= 0 && pointThicknessMm <= head)) return bad('pointThicknessMm', pointThicknessMm, `0 to a rail head, ${head} mm`)

  if (railFootMm < head) return bad('railFootMm', railFootMm, `at least the rail head, ${head} mm`)
  if (flangeway >= gauge / 4) return bad('flangewayMm', flangeway, `less than a quarter of the gauge, ${gauge / 4} mm`)
  if (checkGaugeMm >= gauge || checkGaugeMm <= gauge / 2) {
    return bad('checkGaugeMm', checkGaugeMm, `more than half the gauge and less than the gauge, ${gauge / 2} to ${gauge} mm`)
  }
  if (heelSpreadMm <= pointThicknessMm || heelSpreadMm >= gauge) {
    return bad('heelSpreadMm', heelSpreadMm, `more than the point thickness and less than the gauge, ${pointThicknessMm} to ${gauge} mm`)
  }
  if (tieSpacingMm < gauge * leastSpacingPerGauge) return bad('tieSpacingMm', tieSpacingMm, `at least ${gauge * leastSpacingPerGauge} mm`)
  if (tieWidthMm >= tieSpacingMm) return bad('tieWidthMm', tieWidthMm, `less than the tie spacing, ${tieSpacingMm} mm`)
  if (tieLengthMm <= gauge) return bad('tieLengthMm', tieLengthMm, `more than the gauge, ${gauge} mm`)
  if (foulingMm <= gauge) return bad('foulingMm', foulingMm, `more than the gauge, ${gauge} mm`)

  const { knuckle, halfInch, fullHeads } = frogDistances(frogAngle(frog, request.frogDefinition), request)
  const leastToe = knuckle + head
  if (request.toeLengthMm < leastToe) {
    return bad('toeLengthMm', request.toeLengthMm, `at least ${leastToe} mm, so that the wing rails can bend behind the toe`)
  }
  const leastHeel = Math.max(fullHeads, halfInch + coverBehindFlangeways * flangeway)
  if (request.heelLengthMm < leastHeel) {
    return bad('heelLengthMm', request.heelLengthMm, `at least ${leastHeel} mm, so that two rail heads and the guarded part fit`)
  }
  return null
}
