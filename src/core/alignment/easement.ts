import { invariant, rootBrent } from '../geom/index.ts'
import type { EasementRule } from '../plan/types.ts'
import { spiralSolve } from './spiral.ts'

export type EasementResult =
  | { readonly ok: true; readonly lengthMm: number }
  | {
      readonly ok: false
      readonly problem:
        | { readonly kind: 'notFinite'; readonly where: 'radius' | 'length' | 'shift' }
        | { readonly kind: 'radiusNotPositive'; readonly radiusMm: number }
        | { readonly kind: 'lengthNegative'; readonly lengthMm: number }
        | { readonly kind: 'shiftImpossible'; readonly shiftMm: number; readonly maxShiftMm: number }
    }

/**
 * Largest spiral angle looked at. A corner turns less than half a turn, so no easement of one can turn more; up to
 * there the shift grows with the length, so there is one length for each shift.
 */
const MAX_ANGLE_RAD = Math.PI

/** Length to a ten-millionth of a millimetre: far under what can be set out, far over rounding. */
const LENGTH_TOLERANCE_MM = 1e-10

/**
 * Length of the easement that shifts a curve of this radius by this much off its tangent.
 *
 * Units:      mm.
 * Domain:     radius > 0; 0 <= shift <= the shift of a spiral that turns half a turn.
 * Exactness:  the exact clothoid's length within 1e-10 mm; sqrt(24 R p) is only where the search starts.
 * Outcome:    the length, or what is wrong with the request and what could be had.
 * Throws:     never.
 * Source:     derived here from the clothoid; NEM 113 gives L = sqrt(24 f R) as its first term.
 */
export function easementLengthForShift(radiusMm: number, shiftMm: number): EasementResult {
  if (!Number.isFinite(radiusMm)) return { ok: false, problem: { kind: 'notFinite', where: 'radius' } }
  if (!Number.isFinite(shiftMm)) return { ok: false, problem: { kind: 'notFinite', where: 'shift' } }
  if (!(radiusMm > 0 && Number.isFinite(1 / radiusMm))) return { ok: false, problem: { kind: 'radiusNotPositive', radiusMm } }
  const longestMm = 2 * radiusMm * MAX_ANGLE_RAD
  const maxShiftMm = spiralSolve(longestMm, radiusMm).shiftMm
  if (!Number.isFinite(maxShiftMm)) return { ok: false, problem: { kind: 'notFinite', where: 'radius' } }
  if (shiftMm < 0 || shiftMm > maxShiftMm) return { ok: false, problem: { kind: 'shiftImpossible', shiftMm, maxShiftMm } }
  if (shiftMm === 0) return { ok: true, lengthMm: 0 }

  const missing = (lengthMm: number): number => spiralSolve(lengthMm, radiusMm).shiftMm - shiftMm
  // The exact shift is a little under L^2 / 24 R, so the first guess is a lower bound up to rounding.
  const guessMm = Math.min(Math.sqrt(24 * radiusMm * shiftMm), longestMm)
  const lowMm = missing(guessMm) <= 0 ? guessMm : 0
  const root = rootBrent(missing, lowMm, lowMm === 0 ? guessMm : longestMm, LENGTH_TOLERANCE_MM)
  invariant(root.ok, 'the shift grows with the length, so the ends bracket the root')
  return { ok: true, lengthMm: root.x }
}

/**
 * Length of easement that a rule gives for a radius.
 *
 * Units:      mm.
 * Domain:     rule length >= 0; shift as for easementLengthForShift. 'none' is length zero.
 * Throws:     never.
 */
export function easementByRule(rule: EasementRule, radiusMm: number): EasementResult {
  switch (rule.kind) {
    case 'none':
      return { ok: true, lengthMm: 0 }
    case 'length':
      if (!Number.isFinite(rule.lengthMm)) return { ok: false, problem: { kind: 'notFinite', where: 'length' } }
      if (rule.lengthMm < 0) return { ok: false, problem: { kind: 'lengthNegative', lengthMm: rule.lengthMm } }
      return { ok: true, lengthMm: rule.lengthMm }
    case 'shift':
      return easementLengthForShift(radiusMm, rule.shiftMm)
  }
}

/**
 * Length of easement that a rule gives between two arcs of one hand: what it gives for the sharper one, times the part of that
 * arc's curvature which is gained, so that curvature changes as fast as on the way into the arc from a straight.
 *
 * Units:      mm.
 * Domain:     as for easementByRule. Arcs of one radius need none.
 * Throws:     never.
 */
export function easementBetween(rule: EasementRule, radiusMm: number, otherRadiusMm: number): EasementResult {
  const sharperMm = Math.min(radiusMm, otherRadiusMm)
  const result = easementByRule(rule, sharperMm)
  return result.ok ? { ok: true, lengthMm: result.lengthMm * (1 - sharperMm / Math.max(radiusMm, otherRadiusMm)) } : result
}
