import type { WorkMeasures } from './types.ts'
import { MM_PER_INCH } from '../units/index.ts'

/**
 * Throw at the tip: 4 3/4 in full size, and on models with their wide flangeways at least this many of them.
 * [NMRA-S-3.1] leaves between gauge and points spread 4.75 to 4.77 in full size, [NMRA-S-3.2-2010] 1.31 flangeways in HO and 1.25 in O.
 */
const throwInches = 4.77
const throwFlangeways = 1.3
/** The narrowest flangeway that a wheel passes, as a part of the usual one: 0.035 of 0.048 in and 0.056 of 0.077 in [NMRA-S-3.2-2010]. */
const narrowestFlangeway = 0.73
/** Places along a point at which its gap is looked at; the widest need lies where the need is flat. */
const places = 200

/** Points that move: what they are made to, and their form. Without `points` they are curves tangent to the rail they lie against, as in a slip. */
type PointsMoved = Pick<WorkMeasures, 'ratio' | 'flangewayMm' | 'railHeadMm'> & {
  readonly pointThicknessMm: number
  readonly heelSpreadMm: number
  readonly points?: 'straight' | 'curved'
  readonly entryAngleRad?: number
  readonly pointLengthMm?: number
}

/**
 * How far the tip of a point moves, mm on the model: the usual throw, or more where the wheels of the other route would not pass between the
 * open point's back and the stock rail.
 *
 * A point turns about its heel, so at the share u of its length it opens by throw (1 - u). The gap there is that and what the
 * gauge line stands off, t + e u + (h - t - e) u^2 with e the rise by the angle at the tip, less the head, which is
 * planed to no more than that. A curve tangent at the tip stays close for so long that it needs nearly twice the throw of a
 * straight point.
 *
 * `narrowestMm`: the gap that must be left; that of one point beside a stock rail when not given.
 *
 * Exactness:  to first order in the switch angle. Source: derived.
 */
export function throwOf(moved: PointsMoved, narrowestMm = narrowestFlangeway * moved.flangewayMm): number {
  const { ratio, flangewayMm, railHeadMm, pointThicknessMm, heelSpreadMm } = moved
  const rise = heelSpreadMm - pointThicknessMm
  const byAngle = moved.points === 'straight' ? rise : (moved.entryAngleRad ?? 0) * (moved.pointLengthMm ?? 0)
  let most = Math.max((throwInches * MM_PER_INCH) / ratio, throwFlangeways * flangewayMm)
  for (let i = 0; i < places; i++) {
    const u = i / places
    const closedMm = pointThicknessMm + byAngle * u + (rise - byAngle) * u ** 2
    const behindMm = Math.max(0, closedMm - railHeadMm)
    most = Math.max(most, (narrowestMm - behindMm) / (1 - u))
  }
  return most
}

/**
 * The gap that two points leave which stand open on either side of one track, as where both switches of a three-way turnout lie at one place:
 * their backs may stand no farther apart than guard and wing of a frog do, the span, or they spread the wheels.
 */
export function openOnBothSides({
  gaugeMm,
  checkGaugeMm,
  flangewayMm,
}: Record<'gaugeMm' | 'checkGaugeMm' | 'flangewayMm', number>): number {
  return Math.max(narrowestFlangeway * flangewayMm, (gaugeMm - (checkGaugeMm - flangewayMm)) / 2)
}
