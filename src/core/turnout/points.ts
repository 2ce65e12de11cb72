import { rootBrent } from '../geom/index.ts'
import type { RequestValue, TurnoutProblem, TurnoutRequest, ValueBounds } from './types.ts'

/** The gauge line of the curved route's point, from its tip to its heel. */
export interface Points {
  /** Angle at the tip, to the stock rail. */
  readonly entryAngleRad: number
  /** Angle at the heel. */
  readonly heelAngleRad: number
  /** Radius of the gauge line; null: straight. */
  readonly radiusMm: number | null
  /** PS to the heel along the host. */
  readonly heelXMm: number
}

export type PointsResult = { readonly ok: true; readonly points: Points } | { readonly ok: false; readonly problem: TurnoutProblem }

type PointsRequest = Pick<TurnoutRequest, 'points' | 'gaugeMm' | 'pointLengthMm' | 'pointThicknessMm' | 'heelSpreadMm' | 'entryAngleRad'>

/** Bracket of the heel angle: an arc that turned half a circle would be no point rail. */
const mostHeelAngleRad = Math.PI / 2
const angleToleranceRad = 1e-15

/**
 * The points: from t off the stock rail at the tip to h off it at the heel, over the length a of the rail.
 *
 *   straight   sin S = (h - t) / a
 *   curved     an arc that starts at the entry angle S0:  r = a / (S1 - S0),  h - t = r (cos S0 - cos S1)
 *
 * Domain:     a > 0, 0 <= t < h < G, 0 <= S0 < 90 deg, 0 < F < 90 deg; finite.
 * Exactness:  up to rounding; the heel angle of curved points to 1e-15 rad.
 * Outcome:    the points, or what does not fit and the value that would: an entry angle from which the point would have
 *             to bend back, a heel that has turned as far as the frog, or points so short that the rail opposite, G to
 *             the inside, could not follow (that takes h - t > G (1 - cos S1)).
 * Source:     [TI-850-02 eqs. 6-12 to 6-14] for straight points; curved derived here from the arc.
 */
export function pointsSolve(request: PointsRequest, frogAngleRad: number): PointsResult {
  const { pointLengthMm: a, gaugeMm } = request
  const spread = request.heelSpreadMm - request.pointThicknessMm
  const isStraight = request.points === 'straight'
  const sharpest = Math.acos(1 - spread / gaugeMm)
  const limit = Math.min(frogAngleRad, sharpest)

  const entry = isStraight ? 0 : request.entryAngleRad
  const steepest = Math.min(limit, spread < a ? Math.asin(spread / a) : limit)
  if (entry >= steepest)
    return badValue('entryAngleRad', entry, { least: 0, most: steepest, because: 'or the point would have to bend back' })

  const leastLength = isStraight ? spread / Math.sin(limit) : (spread * (limit - entry)) / (Math.cos(entry) - Math.cos(limit))
  const heelAngleRad = isStraight ? (spread < a ? Math.asin(spread / a) : Math.PI / 2) : heelAngle(a, spread, entry)
  if (a <= leastLength || heelAngleRad >= limit) {
    return limit < frogAngleRad
      ? badValue('pointLengthMm', a, { least: leastLength, most: null, because: 'so that the rail opposite can follow' })
      : {
          ok: false,
          problem: { kind: 'switchAngleTooLarge', switchAngleRad: heelAngleRad, frogAngleRad, minPointLengthMm: leastLength },
        }
  }
  if (isStraight) {
    return { ok: true, points: { entryAngleRad: heelAngleRad, heelAngleRad, radiusMm: null, heelXMm: a * Math.cos(heelAngleRad) } }
  }
  const radiusMm = a / (heelAngleRad - entry)
  const heelXMm = radiusMm * (Math.sin(heelAngleRad) - Math.sin(entry))
  return { ok: true, points: { entryAngleRad: entry, heelAngleRad, radiusMm, heelXMm } }
}

function badValue(where: RequestValue, value: number, bounds: ValueBounds): PointsResult {
  return { ok: false, problem: { kind: 'badValue', where, value, ...bounds } }
}

/** Heel angle of an arc of length a that rises by `spread`; a right angle when it would have to turn farther still. */
function heelAngle(a: number, spread: number, entryRad: number): number {
  // The chord of an arc stands at the mean of its end angles; written so, nothing cancels for a small turn.
  const rise = (heel: number): number => {
    const half = (heel - entryRad) / 2
    return a * Math.sin(entryRad + half) * (half === 0 ? 1 : Math.sin(half) / half) - spread
  }
  const root = rootBrent(rise, entryRad, mostHeelAngleRad, angleToleranceRad)
  return root.ok ? root.x : mostHeelAngleRad
}
