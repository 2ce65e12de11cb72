import type { EasementRule } from '../../plan/types.ts'
import { easementByRule } from '../easement.ts'
import { spiralSolve } from '../spiral.ts'

/** What the curves of a join must be like. */
export interface CurveRule {
  readonly easement: EasementRule
  readonly shortestCurveMm: number
}

/** A curve of one radius with its easements, whatever it turns. */
export interface JoinCurve {
  readonly radiusMm: number
  readonly easementMm: number
  /** Radius about the centre on which the tangents stand: R + p. */
  readonly tangentRadiusMm: number
  /** k: from TS to the foot of the centre on the tangent. */
  readonly kMm: number
  /** The least that the curve may turn: room for both easements and for its least length. */
  readonly leastTurnRad: number
}

/** Curves are kept this part above their least turn, so that rounding of the polygon cannot cut into an easement. */
const INSIDE = 1e-9

/** A curve that turns less is none: over a metre it leads a thousandth of a millimetre aside. */
const LEAST_TURN_RAD = 1e-6

/** The curve of a radius by rule; null where the rule gives no easement for it. */
export function joinCurve(radiusMm: number, rule: CurveRule): JoinCurve | null {
  const easement = easementByRule(rule.easement, radiusMm)
  return easement.ok ? joinCurveWith(radiusMm, easement.lengthMm, rule.shortestCurveMm) : null
}

/** The curve of a radius with a given easement; null where its numbers overflow. */
export function joinCurveWith(radiusMm: number, easementMm: number, shortestCurveMm: number): JoinCurve | null {
  const { shiftMm, kMm } = spiralSolve(easementMm, radiusMm)
  const leastTurnRad = Math.max(easementMm, shortestCurveMm - easementMm) / radiusMm
  if (!Number.isFinite(shiftMm + kMm + leastTurnRad)) return null
  return {
    radiusMm,
    easementMm,
    tangentRadiusMm: radiusMm + shiftMm,
    kMm,
    leastTurnRad: Math.max(leastTurnRad * (1 + INSIDE), LEAST_TURN_RAD),
  }
}
