import cephes from 'cephes'
import fc from 'fast-check'
import { beforeAll, describe, expect, it } from 'vitest'
import {
  elementEvaluator,
  elementPoseAt,
  evaluatorPoseAt,
  InvariantError,
  type CurveElement,
  type Pose,
} from '../../../src/core/geom/index.ts'
import { element, lawRuns, pose, share } from '../../support/geomArbitraries.ts'
import { fresnelPose, fresnelPoseRounding, quadraturePose } from '../../support/poseOracles.ts'

type PoseFunction = (element: CurveElement, start: Pose, s: number) => Pose

const origin: Pose = { x: 0, y: 0, headingRad: 0 }
const gap = (a: Pose, b: Pose): number => Math.hypot(a.x - b.x, a.y - b.y)

beforeAll(() => cephes.compiled)

/** What the builder needs, far above rounding: a billionth of the element, and of the plan's size for its coordinates. */
const toleranceOf = (element: CurveElement, start: Pose): number =>
  1e-9 * element.lengthMm + 1e-15 * (Math.abs(start.x) + Math.abs(start.y))

/** True when a pose function keeps to both oracles on the whole set of elements. */
function keepsToOracles(poseOf: PoseFunction): boolean {
  const law = fc.property(element, pose, share, (element, start, share) => {
    const s = share * element.lengthMm
    const ours = poseOf(element, start, s)
    if (!(gap(ours, quadraturePose(element, start, s)) <= toleranceOf(element, start))) return false
    if (Math.abs(element.k1 - element.k0) < 1e-6) return true
    return gap(ours, fresnelPose(element, start, s)) <= toleranceOf(element, start) + fresnelPoseRounding(element, s)
  })
  return !fc.check(law, { ...lawRuns, numRuns: 1000 }).failed
}

describe('pose on a curvature-linear element', () => {
  it('agrees with Fresnel integrals of cephes and with Gauss-Legendre quadrature', () => {
    expect(keepsToOracles(elementPoseAt)).toBe(true)
  })

  it('agrees when prepared for many evaluations', () => {
    expect(keepsToOracles((element, start, s) => evaluatorPoseAt(elementEvaluator(element, start, 1e-10 * element.lengthMm), s))).toBe(true)
  })

  it.each<[string, PoseFunction]>([
    [
      'the cubic parabola of the pocket books',
      (element, start, s) => {
        const c = (element.k1 - element.k0) / element.lengthMm
        const y = (element.k0 * s * s) / 2 + (c * s ** 3) / 6
        const cos = Math.cos(start.headingRad)
        const sin = Math.sin(start.headingRad)
        return {
          x: start.x + s * cos - y * sin,
          y: start.y + s * sin + y * cos,
          headingRad: start.headingRad + element.k0 * s + (c * s * s) / 2,
        }
      },
    ],
    ['a start curvature forgotten', (element, start, s) => elementPoseAt({ ...element, k0: 0 }, start, s)],
    ['left and right exchanged', ({ lengthMm, k0, k1 }, start, s) => elementPoseAt({ lengthMm, k0: -k0, k1: -k1 }, start, s)],
    [
      'curvature a millionth too great',
      ({ lengthMm, k0, k1 }, start, s) => elementPoseAt({ lengthMm, k0: k0 * 1.000001, k1: k1 * 1.000001 }, start, s),
    ],
    ['a prepared element with too few spans', (element, start, s) => evaluatorPoseAt(elementEvaluator(element, start, 1e-3), s)],
    ['no number at all', () => ({ x: Number.NaN, y: Number.NaN, headingRad: Number.NaN })],
  ])('the oracles catch %s', (_, broken) => {
    expect(keepsToOracles(broken)).toBe(false)
  })

  it('holds for any size and any turning, to a billionth of the length', () => {
    const any = fc.record({
      lengthMm: fc.double({ min: -6, max: 9, noNaN: true }).map((power) => 10 ** power),
      turn0: fc.double({ min: -300, max: 300, noNaN: true }),
      turn1: fc.double({ min: -300, max: 300, noNaN: true }),
    })
    fc.assert(
      fc.property(any, share, ({ lengthMm, turn0, turn1 }, share) => {
        const element = { lengthMm, k0: turn0 / lengthMm, k1: turn1 / lengthMm }
        const s = share * lengthMm
        expect(gap(elementPoseAt(element, origin, s), quadraturePose(element, origin, s)) / lengthMm).toBeLessThanOrEqual(1e-9)
      }),
      lawRuns,
    )
  })

  it('does not jump where the number of spans changes', () => {
    // Turning of 3 n radians is where one more span is taken. Neighbours 1e-9 of the length apart may differ by no more than that.
    for (let spans = 1; spans <= 8; spans++) {
      for (const ratio of [-1, -0.3, 0, 0.7, 0.999999, 1]) {
        const lengthMm = 1000
        const k = (3 * spans) / lengthMm
        const before = elementPoseAt({ lengthMm, k0: ratio * k, k1: k }, origin, lengthMm * (1 - 1e-9))
        const behind = elementPoseAt({ lengthMm, k0: ratio * k, k1: k }, origin, lengthMm * (1 + 1e-9))
        expect(gap(before, behind)).toBeLessThanOrEqual(2.001e-9 * lengthMm)
        expect(gap(before, behind)).toBeGreaterThanOrEqual(1.999e-9 * lengthMm)
      }
    }
  })

  it('runs over into line and arc without a step as the curvatures draw together', () => {
    const arc = elementPoseAt({ lengthMm: 900, k0: 1 / 610, k1: 1 / 610 }, origin, 900)
    const radius = 610
    expect(arc.x).toBeCloseTo(radius * Math.sin(900 / radius), 10)
    expect(arc.y).toBeCloseTo(radius * (1 - Math.cos(900 / radius)), 10)
    for (let power = 3; power <= 18; power++) {
      const difference = 10 ** -power / 610
      const near = elementPoseAt({ lengthMm: 900, k0: 1 / 610, k1: 1 / 610 + difference }, origin, 900)
      // Heading at most differs by L * difference / 2 at the end, so the place by less than L times that.
      expect(gap(near, arc)).toBeLessThanOrEqual(0.5 * 900 * 900 * difference + 1e-12)
    }
  })
})

describe('an element prepared for many evaluations', () => {
  it('keeps the tolerance it was given', () => {
    fc.assert(
      fc.property(element, pose, share, fc.constantFrom(1e-3, 1e-6, 1e-9), (element, start, share, toleranceMm) => {
        const s = share * element.lengthMm
        const exact = elementPoseAt(element, start, s)
        const prepared = evaluatorPoseAt(elementEvaluator(element, start, toleranceMm), s)
        // 1e-11 mm: rounding of coordinates of some metres.
        expect(gap(prepared, exact)).toBeLessThanOrEqual(toleranceMm + 1e-11)
        expect(Math.abs(prepared.headingRad - exact.headingRad)).toBeLessThanOrEqual(1e-14 * (10 + Math.abs(exact.headingRad)))
      }),
      lawRuns,
    )
  })

  it('refuses a place outside the element and a tolerance of nothing', () => {
    const element = { lengthMm: 300, k0: 0, k1: 1 / 600 }
    const ready = elementEvaluator(element, origin, 1e-6)
    expect(() => evaluatorPoseAt(ready, 300.001)).toThrow(InvariantError)
    expect(() => evaluatorPoseAt(ready, -0.001)).toThrow(InvariantError)
    expect(() => evaluatorPoseAt(ready, Number.NaN)).toThrow(InvariantError)
    expect(() => elementEvaluator(element, origin, 0)).toThrow(InvariantError)
    expect(gap(evaluatorPoseAt(ready, 300), elementPoseAt(element, origin, 300))).toBeLessThanOrEqual(1e-6)
  })
})
