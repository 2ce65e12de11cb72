import { rootBrent } from '../geom/index.ts'
import type { CarShape, Swing, SwingProblem } from './types.ts'

export type SwingResult = { readonly ok: true; readonly swing: Swing } | { readonly ok: false; readonly problem: SwingProblem }

/**
 * How far a car stands out beyond half its width on a curve of constant radius.
 *
 * Units:      mm.
 * Domain:     radius of the centreline > 0, wide enough for the car to stand on; pivots within the body.
 * Exactness:  exact for a car that is wholly on the arc; on an easement it is only near (the true path is another matter).
 * Outcome:    both swings, or what about the car or the radius cannot be.
 * Throws:     never.
 * Source:     derived here. The axles of a truck stand on the centreline, so its pivot runs on the circle
 *             r = sqrt(R^2 - (a/2)^2); the body's middle line touches the circle d = sqrt(r^2 - (B/2)^2) half way.
 *               inside  = R - d
 *               outside = sqrt((d + w/2)^2 + (L/2)^2) - R - w/2
 *             written below as quotients, which keep their digits on wide curves.
 */
export function swing(radiusMm: number, car: CarShape): SwingResult {
  const problem = swingProblem(radiusMm, car)
  if (problem !== null) return { ok: false, problem }
  const halfWidth = car.bodyWidthMm / 2
  const halfLength = car.bodyLengthMm / 2
  const sagSquared = (car.truckCentresMm / 2) ** 2 + (car.truckWheelbaseMm / 2) ** 2
  const d = Math.sqrt(radiusMm * radiusMm - sagSquared)
  const insideMm = sagSquared / (radiusMm + d)
  const corner = Math.hypot(d + halfWidth, halfLength)
  const outsideMm = (halfLength * halfLength - insideMm * (radiusMm + d + car.bodyWidthMm)) / (corner + radiusMm + halfWidth)
  if (!Number.isFinite(insideMm + outsideMm)) return { ok: false, problem: { kind: 'notFinite', where: 'swing' } }
  return { ok: true, swing: { insideMm, outsideMm } }
}

function swingProblem(radiusMm: number, car: CarShape): SwingProblem | null {
  const { bodyLengthMm, bodyWidthMm, truckCentresMm, truckWheelbaseMm } = car
  for (const [where, value] of Object.entries({ radiusMm, bodyLengthMm, bodyWidthMm, truckCentresMm, truckWheelbaseMm })) {
    if (!Number.isFinite(value)) return { kind: 'notFinite', where }
  }
  if (radiusMm <= 0) return { kind: 'notPositive', where: 'radiusMm', value: radiusMm }
  if (bodyLengthMm <= 0) return { kind: 'notPositive', where: 'bodyLengthMm', value: bodyLengthMm }
  if (bodyWidthMm <= 0) return { kind: 'notPositive', where: 'bodyWidthMm', value: bodyWidthMm }
  if (truckCentresMm < 0) return { kind: 'negative', where: 'truckCentresMm', value: truckCentresMm }
  if (truckWheelbaseMm < 0) return { kind: 'negative', where: 'truckWheelbaseMm', value: truckWheelbaseMm }
  if (truckCentresMm > bodyLengthMm) return { kind: 'pivotsBeyondBody', truckCentresMm, bodyLengthMm }
  // At this radius the inner body side passes through the curve's centre: d = w/2.
  const leastMm = Math.hypot(truckCentresMm / 2, truckWheelbaseMm / 2, bodyWidthMm / 2)
  if (radiusMm <= leastMm) return { kind: 'radiusTooSmall', radiusMm, leastMm }
  return null
}

export interface TrackCentresRequest {
  /** Centreline of the inner of two concentric tracks. */
  readonly innerRadiusMm: number
  readonly innerCar: CarShape
  readonly outerCar: CarShape
  readonly clearanceMm: number
}

export type TrackCentresResult =
  | { readonly ok: true; readonly trackCentresMm: number }
  | { readonly ok: false; readonly problem: SwingProblem }

/** Far under what can be measured, and not finer than rounding allows. */
const CENTRES_TOLERANCE_MM = 1e-9

/**
 * Track centres that two concentric curves need so that these cars pass with the clearance left between them:
 * half of both widths, the outside swing on the inner track, the inside swing on the outer track, and the clearance.
 * The outer radius is the inner one plus the centres, so they are found as a root.
 *
 * Units:      mm.
 * Domain:     as for swing; clearance >= 0.
 * Exactness:  1e-9 mm of the formula. Outside swing under zero counts as zero: the body is still half its width wide.
 * Throws:     never.
 */
export function trackCentresForCars(request: TrackCentresRequest): TrackCentresResult {
  const { innerRadiusMm, innerCar, outerCar, clearanceMm } = request
  if (!Number.isFinite(clearanceMm)) return { ok: false, problem: { kind: 'notFinite', where: 'clearanceMm' } }
  if (clearanceMm < 0) return { ok: false, problem: { kind: 'negative', where: 'clearanceMm', value: clearanceMm } }
  const inner = swing(innerRadiusMm, innerCar)
  if (!inner.ok) return inner
  const fixedMm = innerCar.bodyWidthMm / 2 + outerCar.bodyWidthMm / 2 + Math.max(0, inner.swing.outsideMm) + clearanceMm
  const least = swing(innerRadiusMm + fixedMm, outerCar)
  if (!least.ok) return least
  // Inside swing falls with radius: the sum at the least centres is the most that they can come to.
  const mostMm = fixedMm + least.swing.insideMm
  const missing = (centresMm: number): number => {
    const outer = swing(innerRadiusMm + centresMm, outerCar)
    return outer.ok ? fixedMm + outer.swing.insideMm - centresMm : Number.NaN
  }
  const root = rootBrent(missing, fixedMm, mostMm, CENTRES_TOLERANCE_MM)
  return root.ok ? { ok: true, trackCentresMm: root.x } : { ok: false, problem: { kind: 'notFinite', where: 'trackCentresMm' } }
}
