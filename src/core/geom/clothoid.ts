import type { Pose } from './types.ts'

/*
 * Points of a curve whose curvature is linear in arc length.
 *
 * A span of length 2h is seen from its middle. With t in [-1, 1] along it, heading there theta, curvature k, sharpness c:
 *   heading(t) = theta + a t + b t^2,    a = k h,    b = c h^2 / 2
 * and the chord of the span is h e^(i theta) times the integral of f(t) = e^(i(a t + b t^2)) over [-1, 1].
 * From f' = i(a + 2 b t) f the Taylor coefficients follow one from the other:
 *   f[0] = 1,   f[1] = i a,   (n + 1) f[n+1] = i(a f[n] + 2 b f[n-1])
 * and only the even ones survive the symmetric integral: 2 (f[0] + f[2]/3 + f[4]/5 + ...).
 * No case distinction: line, arc and near-equal curvatures are the same few lines, so nothing can jump between methods.
 */

/**
 * Most that a span may turn, rad. Larger: fewer spans but more terms, and cancellation of about e^(half of it) roundings.
 * At 3 rad a dozen even terms reach double precision and cancellation costs under one digit.
 */
const spanTurnRad = 3

/**
 * Where the series stops. Terms shrink by a / n and count by 1 / (n + 1), so what follows a term of this size adds less than 1e-16.
 * Smaller: one more round without effect. Larger: the last digit goes.
 */
const negligible = 1e-15

/** Room for terms; a span of 3 rad needs 26 of them and one about an inflection 28. */
const mostTerms = 48

/** 1/n: the loop is bound by its divisions otherwise. */
const inverse: readonly number[] = Array.from({ length: mostTerms + 3 }, (_, n) => 1 / n)

/**
 * Pose reached from `start` after `s` along a curve of curvature k0 + sharpness * s.
 *
 * Units:      mm, rad, 1/mm; sharpness in 1/mm^2.
 * Domain:     any finite values; negative s goes backwards. Cost grows with the total turning (one span for 3 rad).
 * Exactness:  1e-13 of the length plus rounding of the heading; measured against Fresnel integrals in tests/differential/geom.
 * Source:     derived above.
 */
export function clothoidPose(start: Pose, k0: number, sharpness: number, s: number): Pose {
  clothoidPoseInto(scratch, start, k0, sharpness, s)
  return { x: scratch[0] ?? 0, y: scratch[1] ?? 0, headingRad: scratch[2] ?? 0 }
}

/** Room for x, y and heading. */
export type PoseSlot = Float64Array

export const poseSlot = (): PoseSlot => new Float64Array(3)

const scratch = poseSlot()

/** The same written into a slot: searches look at thousands of poses and keep none. */
export function clothoidPoseInto(slot: PoseSlot, start: Pose, k0: number, sharpness: number, s: number): void {
  const kEnd = k0 + sharpness * s
  const turn = Math.max(Math.abs(k0), Math.abs(kEnd)) * Math.abs(s)
  const spans = Math.max(1, Math.ceil(turn / spanTurnRad))
  const h = s / (2 * spans)
  const b = 0.5 * sharpness * h * h
  let x = start.x
  let y = start.y
  for (let i = 0; i < spans; i++) {
    const middle = (2 * i + 1) * h
    const a = (k0 + sharpness * middle) * h
    const theta = start.headingRad + middle * (k0 + 0.5 * sharpness * middle)
    const bb = 2 * b
    // f[n-1] and f[n], two steps to a round: f[n+1] is even and counts, f[n+2] is odd and only leads on.
    let evenRe = 1
    let evenIm = 0
    let oddRe = 0
    let oddIm = a
    let re = 1
    let im = 0
    for (let n = 1; n < mostTerms; n += 2) {
      const share = inverse[n + 1] ?? 0
      const nextRe = -(a * oddIm + bb * evenIm) * share
      const nextIm = (a * oddRe + bb * evenRe) * share
      evenRe = nextRe
      evenIm = nextIm
      const weight = inverse[n + 2] ?? 0
      re += evenRe * weight
      im += evenIm * weight
      const leadRe = -(a * evenIm + bb * oddIm) * weight
      oddIm = (a * evenRe + bb * oddRe) * weight
      oddRe = leadRe
      if (Math.abs(evenRe) + Math.abs(evenIm) + Math.abs(oddRe) + Math.abs(oddIm) < negligible) break
    }
    const cos = Math.cos(theta)
    const sin = Math.sin(theta)
    x += 2 * h * (cos * re - sin * im)
    y += 2 * h * (sin * re + cos * im)
  }
  slot[0] = x
  slot[1] = y
  slot[2] = start.headingRad + s * (k0 + 0.5 * sharpness * s)
}
