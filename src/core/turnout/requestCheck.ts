import { frogAngle, frogDistances } from './frog.ts'
import { badLength, badMeasure } from './valueCheck.ts'
import type { FrogLengths, RequestValue, TurnoutProblem, TurnoutRequest } from './types.ts'

/** Frog numbers the equations are asked for. Below 2 the vee is no frog any more; above 30 no such frog was ever made. */
export const frogRange = { min: 2, max: 30 } as const

/** Past this angle at the tip a wheel would hit the point, not be led by it. */
const mostEntryRad = Math.PI / 6
/** Beyond the actual point the guarded part runs on by this many flangeways. */
export const coverBehindFlangeways = 2

/** Wider than by this part of a flangeway, a wheel that leans on one rail may drop off the other: the least play of treads. Common practice, no source. */
const mostWideningFlangeways = 0.5

/** Spreads are typed to a thousandth of an inch. */
const spreadRoundingMm = 1e-6

type AskedValue = Exclude<RequestValue, 'wideningMm'>

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
] as const satisfies readonly AskedValue[]

/**
 * The first value of a request that cannot be built, whatever the others are solved to; null: none.
 *
 * Outcome:  what is wrong, where, and the bound that would do. NaN and infinities are caught here, so nothing behind
 *           this has to look for them. Never throws.
 */
export function requestProblem(request: TurnoutRequest): TurnoutProblem | null {
  const { frog, gaugeMm: gauge, flangewayMm: flangeway, railHeadMm: head } = request
  if (!(frog >= frogRange.min && frog <= frogRange.max)) return { kind: 'frogOutOfRange', frog, ...frogRange }

  const bad = (where: AskedValue, least: number | null, most: number | null, because = ''): TurnoutProblem => ({
    kind: 'badValue',
    where,
    value: Number(request[where]),
    least,
    most,
    because,
  })
  const length = badLength(request, lengthKeys)
  if (length !== null) return { kind: 'badValue', ...length }
  const { entryAngleRad, heelSpreadMm, foulingMm, toeLengthMm, heelLengthMm } = request
  if (!(entryAngleRad >= 0 && entryAngleRad <= mostEntryRad)) return bad('entryAngleRad', 0, mostEntryRad)
  const measure = badMeasure(request)
  if (measure !== null) return { kind: 'badValue', ...measure }
  const leastSpread = flangeway + head
  if (heelSpreadMm < leastSpread - spreadRoundingMm) {
    return bad('heelSpreadMm', leastSpread, null, 'a flangeway and a rail head, so that wheels pass behind the heel')
  }
  if (foulingMm <= gauge) return bad('foulingMm', gauge, null, 'the gauge')

  const mostWidening = flangeway * mostWideningFlangeways
  for (const { byMm } of request.widening ?? []) {
    if (!(byMm >= 0 && byMm <= mostWidening)) {
      return { kind: 'badValue', where: 'wideningMm', value: byMm, least: 0, most: mostWidening, because: 'half a flangeway' }
    }
  }

  const least = frogLengthsLeast(frogAngle(frog, request.frogDefinition), request)
  if (toeLengthMm < least.toeMm) return bad('toeLengthMm', least.toeMm, null, 'so that the wing rails can bend behind the toe')
  if (heelLengthMm < least.heelMm) return bad('heelLengthMm', least.heelMm, null, 'so that two rail heads and the guarded part fit')
  return null
}

/** The shortest frog: room for the wing's bend ahead of the knuckle, for two heads and the guarded part behind the point. */
export function frogLengthsLeast(angleRad: number, request: Pick<TurnoutRequest, 'flangewayMm' | 'railHeadMm' | 'ratio'>): FrogLengths {
  const { knuckle, halfInch, fullHeads } = frogDistances(angleRad, request)
  return { toeMm: knuckle + request.railHeadMm, heelMm: Math.max(fullHeads, halfInch + coverBehindFlangeways * request.flangewayMm) }
}
