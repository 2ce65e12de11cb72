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
 * Numbers to a span: 6 of x, 6 of y. One flat list of numbers is what the engine reads fastest: a record per span with named fields was
 * measured at half the speed, a typed array too, and polynomials of the seventh degree, with a third fewer numbers, at five sixths.
 */
const spanStride = 12

/** Ahead of the spans: spans per mm, the farthest distance, and the heading's parabola. */
const headLength = 5

/** At the very end of an element the count of spans run through may be above their number by rounding, as part of a span. */
const endSlack = 1e-12

/**
 * An element made ready for many evaluations: plain numbers, to be read by evaluatorPoseAt only. First spans per mm, the farthest distance and
 * the heading's three coefficients; then for each span polynomials x0..x5, y0..y5 of the share of the span that is run through.
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
  const rows: number[] = [count / lengthMm, lengthMm + endSlack * spanMm, start.headingRad, k0, 0.5 * sharpness]
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
    rows.push(...x, ...y)
  }
  const end = elementPoseAt(element, start, lengthMm)
  rows.push(end.x, 0, 0, 0, 0, 0, end.y, 0, 0, 0, 0, 0)
  return rows
}

/**
 * Pose at distance s along a ready element.
 *
 * Domain:     0 <= s <= length, with no slack but rounding.
 * Exactness:  position within the tolerance of the evaluator, heading to rounding.
 * Throws:     InvariantError outside.
 */
export function evaluatorPoseAt(e: ElementEvaluator, s: number): Pose {
  invariant(s >= 0 && s <= (e[1] ?? -1), 'a distance must lie on the element')
  const spans = s * (e[0] ?? 0)
  const span = spans | 0
  const u = spans - span
  const at = headLength + span * spanStride
  return {
    x: polynomial(e, at, u),
    y: polynomial(e, at + 6, u),
    headingRad: (e[2] ?? 0) + s * ((e[3] ?? 0) + s * (e[4] ?? 0)),
  }
}

/** Even and odd powers apart: two short chains of multiplications run side by side. */
function polynomial(e: ElementEvaluator, at: number, u: number): number {
  const uu = u * u
  return (
    (e[at] ?? 0) +
    uu * ((e[at + 2] ?? 0) + uu * (e[at + 4] ?? 0)) +
    u * ((e[at + 1] ?? 0) + uu * ((e[at + 3] ?? 0) + uu * (e[at + 5] ?? 0)))
  )
}
