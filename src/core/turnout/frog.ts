import type { FrogDefinition } from '../plan/types.ts'
import { MM_PER_INCH } from '../units/index.ts'

/** Prototype width of the actual frog point, an inch fraction that gave the half-inch point its name. */
const pointWidthInches = 0.5

/**
 * Frog angle F of a frog number N, rad.
 *
 * Domain:     N > 0.
 * Exactness:  exact up to rounding. 'isosceles': N lengths along the middle line for one across, F = 2 atan(1/(2N)),
 *             American practice [NMRA-RP-12 row 18]; 'tangent': N along one side for one square to it, F = atan(1/N).
 */
export function frogAngle(frog: number, definition: FrogDefinition): number {
  return definition === 'isosceles' ? 2 * Math.atan(1 / (2 * frog)) : Math.atan(1 / frog)
}

/** Distance from the theoretical point, along a gauge line, at which the gauge lines of a frog stand `spreadMm` apart. */
export function frogSpreadDistance(spreadMm: number, frogAngleRad: number): number {
  return spreadMm / (2 * Math.sin(frogAngleRad / 2))
}

/**
 * Distances in a frog, mm, from the theoretical point along a gauge line.
 *
 * knuckle:   ahead of the point, where a wing rail bends. The wing lies one flangeway off the vee's far gauge line, so it
 *            leaves its own gauge line at flangeway / sin F.
 * throat:    ahead of the point, where the gauge lines are one flangeway apart. N x flangeway along the middle line,
 *            flangeway / (2 sin(F/2)) along the rail.
 * halfInch:  behind the point, where the vee has the width of half an inch full size: the actual point.
 * fullHeads: behind the point, where the two rails of the vee each have their full head.
 */
export function frogDistances(
  frogAngleRad: number,
  request: { readonly flangewayMm: number; readonly railHeadMm: number; readonly ratio: number },
): { readonly knuckle: number; readonly throat: number; readonly halfInch: number; readonly fullHeads: number } {
  return {
    knuckle: request.flangewayMm / Math.sin(frogAngleRad),
    throat: frogSpreadDistance(request.flangewayMm, frogAngleRad),
    halfInch: frogSpreadDistance((pointWidthInches * MM_PER_INCH) / request.ratio, frogAngleRad),
    fullHeads: request.railHeadMm / Math.tan(frogAngleRad / 2),
  }
}

/** Heel of the frog by its toe: the model rows print 1.6 to 1.7 times [NMRA-RP-12 12.7]. */
const heelByToe = 1.6

/** Toe of a frog as usual: there two heads and a flangeway fit between the gauge lines. */
export function frogToeUsual(
  { flangewayMm, railHeadMm }: { readonly flangewayMm: number; readonly railHeadMm: number },
  frogAngleRad: number,
): number {
  return frogSpreadDistance(flangewayMm + 2 * railHeadMm, frogAngleRad)
}

/** Heel of a frog as usual for its toe: longer by the rule, and long enough that the feet of both rails clear, a head and a foot apart. */
export function frogHeelUsual(
  { railHeadMm, railFootMm }: { readonly railHeadMm: number; readonly railFootMm: number },
  frogAngleRad: number,
  toeLengthMm: number,
): number {
  return Math.max(heelByToe * toeLengthMm, frogSpreadDistance(railHeadMm + railFootMm, frogAngleRad))
}

/**
 * Toe and heel of a frog of another angle than the one that they were chosen for: where its gauge lines stand as far apart.
 *
 * Domain:     angles above 0. Exact up to rounding.
 */
export function frogLengthsAt(
  { toeLengthMm, heelLengthMm }: { readonly toeLengthMm: number; readonly heelLengthMm: number },
  chosenRad: number,
  angleRad: number,
): { readonly toeMm: number; readonly heelMm: number } {
  const factor = Math.sin(chosenRad / 2) / Math.sin(angleRad / 2)
  return { toeMm: toeLengthMm * factor, heelMm: heelLengthMm * factor }
}
