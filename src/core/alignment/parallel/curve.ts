import { cornerSolve } from '../corner.ts'
import { easementLengthForShift } from '../easement.ts'
import type { CompoundRequest, CornerSolution } from '../types.ts'

/** What the curve of a parallel is asked to do, as for a corner. */
export interface ParallelCurve {
  readonly radiusMm: number | null | CompoundRequest
  readonly easementInMm: number
  readonly easementOutMm: number
  /** Sharpest radius that comes out, also where it is easement-only. */
  readonly leastRadiusMm: number
}

export type ParallelCurveResult =
  | { readonly ok: true; readonly curve: ParallelCurve }
  | { readonly ok: false; readonly reason: 'radiusCollapses'; readonly radiusMm: number }
  | { readonly ok: false; readonly reason: 'wideningTooGreat'; readonly mostMm: number }
  | { readonly ok: false; readonly reason: 'noArcLeft'; readonly arc: number; readonly shortByMm: number }

/** A shift that misses zero by less has done so by rounding. */
export const SHIFT_ROUNDING_MM = 1e-9

/**
 * The curve that runs beside a plain one about the same centre.
 *
 * Units:      mm; offsets + left.
 * Domain:     a solved corner with one radius.
 * Exactness:  that of easementLengthForShift.
 * Outcome:    radius and easements; easement-only where the easements leave no arc; or what hinders it.
 * Throws:     never.
 * Source:     derived here. To a corner of hand s (+1 left) the centre stands R + p off the tangent. Beside it the tangent is
 *             o nearer to a centre on its left, the arc c nearer:  R' = R - s c,  R + p - s o = R' + p', so
 *               p' = p + s (c - o),
 *             for the easement in and the one out alike. Inside of the curve the easement becomes longer, and centres
 *             widen from o to c along it.
 */
export function parallelCurve(corner: CornerSolution, offsetMm: number, curveOffsetMm: number): ParallelCurveResult {
  const hand = corner.deflectionRad < 0 ? -1 : 1
  const radiusMm = corner.radiusMm - hand * curveOffsetMm
  if (!(radiusMm > 0)) return { ok: false, reason: 'radiusCollapses', radiusMm }
  const widerMm = hand * (curveOffsetMm - offsetMm)
  const leastShiftMm = Math.min(corner.shiftInMm, corner.shiftOutMm)
  if (leastShiftMm + widerMm < -SHIFT_ROUNDING_MM) return { ok: false, reason: 'wideningTooGreat', mostMm: offsetMm - hand * leastShiftMm }
  const into = easementLengthForShift(radiusMm, shiftRounded(corner.shiftInMm + widerMm))
  const out = easementLengthForShift(radiusMm, shiftRounded(corner.shiftOutMm + widerMm))
  // A shift is impossible only where the easement would have to turn half a turn and more: the radius is all but gone.
  if (!into.ok || !out.ok) return { ok: false, reason: 'radiusCollapses', radiusMm }
  const curve = { radiusMm, easementInMm: into.lengthMm, easementOutMm: out.lengthMm }
  const fits = cornerSolve({ deflectionRad: corner.deflectionRad, ...curve })
  if (fits.ok || fits.problem.kind !== 'easementsTooLong') return { ok: true, curve: { ...curve, leastRadiusMm: radiusMm } }
  return easementOnly(corner, curve, offsetMm, curveOffsetMm)
}

/** A shift with what is rounding only taken for none. */
export const shiftRounded = (shiftMm: number): number => (Math.abs(shiftMm) < SHIFT_ROUNDING_MM ? 0 : shiftMm)

/**
 * Easement-only beside a curve with hardly any arc: easements in the proportion that they would have had, and of the length that
 * puts the wanted centres where the curve is nearest to its PI. The PI of the parallel lies o / cos(D/2) further inside.
 */
function easementOnly(
  { deflectionRad, externalMm }: CornerSolution,
  { radiusMm, easementInMm, easementOutMm }: { readonly radiusMm: number; readonly easementInMm: number; readonly easementOutMm: number },
  offsetMm: number,
  curveOffsetMm: number,
): ParallelCurveResult {
  const hand = deflectionRad < 0 ? -1 : 1
  const wantedMm = externalMm + hand * (curveOffsetMm - offsetMm / Math.cos(deflectionRad / 2))
  const one = cornerSolve({ deflectionRad, radiusMm: null, easementInMm, easementOutMm })
  // All easement-only corners of one turn and proportion are alike.
  const times = one.ok ? wantedMm / one.corner.externalMm : 0
  if (!one.ok || !(times > 0)) return { ok: false, reason: 'radiusCollapses', radiusMm }
  return {
    ok: true,
    curve: {
      radiusMm: null,
      easementInMm: easementInMm * times,
      easementOutMm: easementOutMm * times,
      leastRadiusMm: one.corner.radiusMm * times,
    },
  }
}
