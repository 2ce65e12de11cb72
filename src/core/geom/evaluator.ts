import { elementPoseAt, elementSharpness } from './element.ts'
import { invariant } from './invariant.ts'
import type { CurveElement, Pose } from './types.ts'

/*
 * Many poses of one element, fast: the element is cut into equal spans, and on each x and y are polynomials of the fifth
 * degree through the exact points at the six Chebyshev nodes. The heading is a parabola anyway, so it stays exact.
 *
 * How long may a span be? Half of it is h, the sharpest curvature k, the sharpness c. Interpolation at Chebyshev nodes errs by at
 * most |z^(6)| / (2^5 6!) with derivatives over t in [-1, 1], and
 *   |z^(6)| <= h^6 (k^5 + 10 k^3 c + 15 k c^2)
 * (the error is the polynomial of the nodes times an average of z^(6) / 6! with weights above 0, so this bounds the distance itself)
 * from the Taylor coefficients of e^(i(a t + b t^2)), a = k h, b = c h^2 / 2. So h follows from the tolerance by a sixth root.
 */

/** Nodes of the interpolation on [0, 1], and so the number of coefficients of x and of y. */
const nodes: readonly number[] = Array.from({ length: 6 }, (_, i) => 0.5 - 0.5 * Math.cos((Math.PI * (2 * i + 1)) / 12))

/**
 * Numbers to a span: 6 of x, 6 of y, 3 of the heading and how much of it may be run through. Sixteen doubles are two cache lines, and one flat list of
 * numbers is what the engine reads fastest: a record per span with named fields was measured at half the speed, and
 * so was the length in a field beside the list.
 */
const spanStride = 16

/** Ahead of the spans: spans per mm. */
const headLength = 1

/** At the very end of an element the count of spans run through may be above their number by rounding, as part of a span. */
const endSlack = 1e-12

/**
 * An element made ready for many evaluations: plain numbers, to be read by evaluatorPoseAt only. First spans per mm;
 * then for each span polynomials x0..x5, y0..y5, heading0..2 of the share of the span that is run through, and the most of that share.
 * A last span holds nothing but the end of the element, so that it needs no case of its own.
 */
export type ElementEvaluator = readonly number[]

/** Row i: coefficients of the Lagrange polynomial that is 1 at node i and 0 at the others. */
const lagrange: readonly (readonly number[])[] = nodes.map((node, i) => {
  let coefficients = [1]
  nodes.forEach((other, j) => {
    if (i === j) return
    const scale = 1 / (node - other)
    const next = [...coefficients, 0].map((_, n) => ((coefficients[n - 1] ?? 0) - other * (coefficients[n] ?? 0)) * scale)
    coefficients = next
  })
  return coefficients
})

/** Longest half span for a tolerance, mm. */
function longestHalfSpan(element: CurveElement, toleranceMm: number): number {
  const k = Math.max(Math.abs(element.k0), Math.abs(element.k1))
  const c = Math.abs(elementSharpness(element))
  const bound = (k * (k ** 4 + 10 * k * k * c + 15 * c * c)) / (32 * 720)
  return (toleranceMm / bound) ** (1 / 6)
}

/**
 * Makes an element ready. Worth it from about ten evaluations to a span on; a single pose is quicker by elementPoseAt.
 *
 * Units:      mm, rad.
 * Domain:     toleranceMm > 0; it bounds the error of the position anywhere on the element, rounding aside.
 * Throws:     InvariantError for a tolerance of 0 or less.
 * Source:     bound derived above; interpolation error after any numerical analysis text (from memory).
 */
export function elementEvaluator(element: CurveElement, start: Pose, toleranceMm: number): ElementEvaluator {
  invariant(toleranceMm > 0, 'a tolerance must be above 0')
  const { lengthMm, k0 } = element
  const sharpness = elementSharpness(element)
  const count = Math.max(1, Math.ceil(lengthMm / (2 * longestHalfSpan(element, toleranceMm))))
  const spanMm = lengthMm / count
  const rows: number[] = []
  for (let i = 0; i < count; i++) {
    const from = i * spanMm
    const origin = elementPoseAt(element, start, from)
    const x = [origin.x, 0, 0, 0, 0, 0]
    const y = [origin.y, 0, 0, 0, 0, 0]
    nodes.forEach((node, j) => {
      const pose = elementPoseAt(element, start, from + node * spanMm)
      lagrange[j]?.forEach((share, n) => {
        x[n] = (x[n] ?? 0) + share * (pose.x - origin.x)
        y[n] = (y[n] ?? 0) + share * (pose.y - origin.y)
      })
    })
    const kHere = k0 + sharpness * from
    rows.push(...x, ...y, origin.headingRad, kHere * spanMm, 0.5 * sharpness * spanMm * spanMm, 1)
  }
  const end = elementPoseAt(element, start, lengthMm)
  rows.push(end.x, 0, 0, 0, 0, 0, end.y, 0, 0, 0, 0, 0, end.headingRad, 0, 0, endSlack)
  return [count / lengthMm, ...rows]
}

/**
 * Pose at distance s along a ready element.
 *
 * Domain:     0 <= s <= length, with no slack but rounding.
 * Exactness:  position within the tolerance of the evaluator, heading to rounding.
 * Throws:     InvariantError outside.
 */
export function evaluatorPoseAt(e: ElementEvaluator, s: number): Pose {
  const spans = s * (e[0] ?? 0)
  const span = spans | 0
  const u = spans - span
  const uu = u * u
  const o = headLength + span * spanStride
  invariant(u >= 0 && u <= (e[o + 15] ?? -1), 'a distance must lie on the element')
  // Even and odd powers apart: two short chains of multiplications run side by side.
  return {
    x: (e[o] ?? 0) + uu * ((e[o + 2] ?? 0) + uu * (e[o + 4] ?? 0)) + u * ((e[o + 1] ?? 0) + uu * ((e[o + 3] ?? 0) + uu * (e[o + 5] ?? 0))),
    y:
      (e[o + 6] ?? 0) +
      uu * ((e[o + 8] ?? 0) + uu * (e[o + 10] ?? 0)) +
      u * ((e[o + 7] ?? 0) + uu * ((e[o + 9] ?? 0) + uu * (e[o + 11] ?? 0))),
    headingRad: (e[o + 12] ?? 0) + u * ((e[o + 13] ?? 0) + u * (e[o + 14] ?? 0)),
  }
}
