import type { Points } from './points.ts'
import type { TurnoutProblem, TurnoutRequest } from './types.ts'

/** The closure between the heel of the points and the toe of the frog. */
export interface Closure {
  /** Radius of the gauge line of the curved closure rail, the outer rail of the diverging route. */
  readonly gaugeLineRadiusMm: number
  /** PS to the theoretical frog point along the host. */
  readonly leadMm: number
  readonly curvedMm: number
  readonly straightMm: number
}

export type ClosureResult = { readonly ok: true; readonly closure: Closure } | { readonly ok: false; readonly problem: TurnoutProblem }

type ClosureRequest = Pick<TurnoutRequest, 'gaugeMm' | 'heelSpreadMm' | 'toeLengthMm' | 'pointLengthMm'>

/**
 * The closure: an arc from the heel, h off the stock rail at angle S, to the toe, u short of the theoretical point
 * along a straight at the frog angle F. The rise across the gauge G and the run along the host give
 *
 *   Rr       = (G - h - u sin F) / (cos S - cos F)
 *   lead     = x of the heel + Rr (sin F - sin S) + u cos F
 *   curved   = Rr (F - S)         straight = lead - a - u
 *
 * Domain:     S < F; finite.
 * Exactness:  up to rounding.
 * Outcome:    noClosureSpread when the rise left is so small that the inner rail, G inside, would have no radius;
 *             pointsLongerThanLead when nothing is left of the straight closure rail.
 * Source:     derived; the same shape as [TI-850-02 eqs. 6-12 to 6-14] and [NMRA-RP-12 rows 2-24].
 */
export function closureSolve(request: ClosureRequest, points: Points, frogAngleRad: number): ClosureResult {
  const { gaugeMm, heelSpreadMm, toeLengthMm: u, pointLengthMm: a } = request
  const s = points.heelAngleRad
  const rise = gaugeMm - heelSpreadMm - u * Math.sin(frogAngleRad)
  // cos S - cos F as a product: for high frog numbers the difference would lose half its digits.
  const turn = 2 * Math.sin((frogAngleRad + s) / 2) * Math.sin((frogAngleRad - s) / 2)
  const shortByMm = gaugeMm * turn - rise
  if (shortByMm >= 0) return { ok: false, problem: noSpread(shortByMm) }
  const radius = rise / turn
  const leadMm = points.heelXMm + radius * (Math.sin(frogAngleRad) - Math.sin(s)) + u * Math.cos(frogAngleRad)
  const straightMm = leadMm - a - u
  if (straightMm <= 0) return { ok: false, problem: { kind: 'pointsLongerThanLead', pointLengthMm: a, roomMm: leadMm - u } }
  return { ok: true, closure: { gaugeLineRadiusMm: radius, leadMm, curvedMm: radius * (frogAngleRad - s), straightMm } }
}

/** What would do is found by whoever knows the whole request. */
export function noSpread(shortByMm: number): TurnoutProblem {
  return { kind: 'noClosureSpread', shortByMm, mostToeMm: null, mostSpreadMm: null }
}
