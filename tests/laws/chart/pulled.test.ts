import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { chartScale, heightsHeld } from '../../../src/app/chart/chartScale.ts'
import { easementAsked, easementReaching, flattestMm, radiusAsked } from '../../../src/app/chart/pulled.ts'
import { cornerSolve } from '../../../src/core/alignment/index.ts'
import type { CornerPlace, CornerRequest, CornerSolution } from '../../../src/core/alignment/types.ts'

const SEED = 20261126
const inch = 25.4
const lineClass = { minRadiusMm: 24 * inch, usualRadiusMm: 30 * inch }
const metric = { units: 'metric' } as const
const imperial = { units: 'imperial' } as const

const scales = fc
  .record({ lengthMm: fc.double({ min: 300, max: 30000, noNaN: true }), sharpestMm: fc.double({ min: 100, max: 1500, noNaN: true }) })
  .map(({ lengthMm, sharpestMm }) => chartScale(lengthMm, 1.12 / sharpestMm, 1100))
const hands = fc.constantFrom(1 as const, -1 as const)

describe('a plateau pulled to a height', () => {
  test('has the radius 1/k of the curvature k that the row draws at that height, on both sides of the axis', () => {
    fc.assert(
      fc.property(scales, hands, fc.double({ min: 80, max: flattestMm * 0.999, noNaN: true }), (scale, sign, radiusMm) => {
        const asked = radiusAsked(scale.y(sign / radiusMm), sign, lineClass, scale, metric, true)
        if (!asked.ok) throw new Error(asked.why)
        // A height is a float near 62 px, whose last digit the flattest radii feel most.
        expect(Math.abs(1 / asked.mm - 1 / radiusMm)).toBeLessThan(1e-12)
      }),
      { seed: SEED },
    )
  })

  test('keeps its radius where it is taken hold of, cut off at the top or not, and never jumps from one px to the next', () => {
    const radii = fc.double({ min: 20, max: 3000, noNaN: true })
    fc.assert(
      fc.property(scales, hands, radii, (scale, sign, radiusMm) => {
        const heights = heightsHeld(sign / radiusMm, scale)
        const topY = scale.topY(sign / radiusMm)
        const curvatureAt = (y: number): number => {
          const asked = radiusAsked(y, sign, lineClass, heights, metric, true)
          if (!asked.ok) throw new Error(asked.why)
          return 1 / asked.mm
        }
        expect(curvatureAt(topY) * radiusMm).toBeCloseTo(1, 9)
        // 56 px of the row between its top and the axis: no px is more than as large a part of all that a hand goes through.
        const most = Math.max(scale.reach, 1 / radiusMm) / 56
        for (let px = 1; heights.curvatureAt(topY + sign * px) * sign > 1 / flattestMm; px++)
          expect(curvatureAt(topY + sign * (px - 1)) - curvatureAt(topY + sign * px)).toBeLessThan(most * (1 + 1e-9))
      }),
      { seed: SEED, numRuns: 60 },
    )
  })

  test('lands on quarter inches or 5 mm, no farther than half a step from the hand', () => {
    fc.assert(
      fc.property(
        scales,
        hands,
        fc.double({ min: 80, max: 3000, noNaN: true }),
        fc.constantFrom(metric, imperial),
        (scale, sign, mm, prefs) => {
          const asked = radiusAsked(scale.y(sign / mm), sign, lineClass, scale, prefs, false)
          if (!asked.ok || asked.why !== null) return
          const step = prefs.units === 'metric' ? 5 : inch / 4
          expect(Math.abs(asked.mm / step - Math.round(asked.mm / step))).toBeLessThan(1e-9)
          expect(Math.abs(asked.mm - mm)).toBeLessThan(step / 2 + 1e-6)
        },
      ),
      { seed: SEED },
    )
  })

  test('is drawn to what its class gives and says so: the usual radius stays the class’s own', () => {
    const scale = chartScale(10000, 1.2 / lineClass.minRadiusMm, 1100)
    const at = (radiusMm: number) => radiusAsked(scale.y(1 / radiusMm) + 1, 1, lineClass, scale, imperial, false)
    expect(at(lineClass.usualRadiusMm)).toEqual({ ok: true, value: 'class', mm: 30 * inch, why: 'byClass' })
    expect(at(lineClass.minRadiusMm)).toEqual({ ok: true, value: 24 * inch, mm: 24 * inch, why: 'classMinimum' })
  })

  test('is refused on the other side of the axis and where a px is metres', () => {
    const scale = chartScale(10000, 1 / 500, 1100)
    expect(radiusAsked(scale.y(-1 / 900), 1, lineClass, scale, metric, false)).toEqual({ ok: false, why: 'otherSide' })
    expect(radiusAsked(scale.y(0), 1, lineClass, scale, metric, false)).toEqual({ ok: false, why: 'otherSide' })
    expect(radiusAsked(scale.y(1 / 13000), 1, lineClass, scale, metric, false)).toEqual({ ok: false, why: 'tooFlat' })
  })
})

const solved = (request: CornerRequest): CornerSolution => {
  const result = cornerSolve(request)
  if (!result.ok) throw new Error(JSON.stringify(result.problem))
  return result.corner
}

/** A corner whose PI would lie at this station of its tangent. */
const piMm = 9000
function placed(solution: CornerSolution): CornerPlace {
  const tsMm = piMm - solution.tangentInMm
  const scMm = tsMm + solution.easementInMm
  const csMm = scMm + solution.arcLengthMm
  return { cornerId: 'pi-1', pi: { x: 0, y: 0 }, solution, tsMm, scMm, csMm, stMm: csMm + solution.easementOutMm, joins: [] }
}

/** None, or one that is no dust of the arithmetic. */
const parts = fc.oneof(fc.constant(0), fc.double({ min: 1e-6, max: 0.45, noNaN: true }))

/** Any two of the easements together turn less than the corner does. */
const corners = fc
  .record({
    degrees: fc.double({ min: 5, max: 150, noNaN: true }),
    hand: hands,
    radiusMm: fc.double({ min: 150, max: 2000, noNaN: true }),
    part: fc.double({ min: 0.01, max: 0.45, noNaN: true }),
    otherPart: parts,
    wantedPart: parts,
  })
  .map(({ degrees, hand, radiusMm, part, otherPart, wantedPart }) => {
    const turn = (degrees * Math.PI) / 180
    const most = 2 * radiusMm * turn
    return { deflectionRad: hand * turn, radiusMm, lengthMm: most * part, otherMm: most * otherPart, wantedMm: most * wantedPart }
  })

describe('the foot of a curve pulled along the track', () => {
  test.each(['in', 'out'] as const)('asks for the easement %s with which the corner comes out there', (side) => {
    fc.assert(
      fc.property(corners, ({ deflectionRad, radiusMm, lengthMm, otherMm, wantedMm }) => {
        const request = (mm: number): CornerRequest => ({
          deflectionRad,
          radiusMm,
          easementInMm: side === 'in' ? mm : otherMm,
          easementOutMm: side === 'in' ? otherMm : mm,
        })
        const now = placed(solved(request(lengthMm)))
        const then = placed(solved(request(wantedMm)))
        const found = easementReaching(now, radiusMm, side, side === 'in' ? then.tsMm : then.stMm)
        expect(found).toBeCloseTo(wantedMm, 4)
      }),
      { seed: SEED },
    )
  })

  test('asks for nothing where even no easement reaches so little, and says that there is none', () => {
    const now = placed(solved({ deflectionRad: 1.2, radiusMm: 600, easementInMm: 200, easementOutMm: 200 }))
    const bare = placed(solved({ deflectionRad: 1.2, radiusMm: 600, easementInMm: 0, easementOutMm: 200 }))
    const asked = easementReaching(now, 600, 'in', bare.tsMm + 40)
    expect(asked).toBeLessThan(0)
    expect(easementAsked(asked, 300, 10, metric, false)).toEqual({ ok: true, value: 0, mm: 0, why: 'noEasement' })
  })

  test('asks for more than can be turned where no easement reaches: the line refuses that itself', () => {
    const request = { deflectionRad: -0.8, radiusMm: 500, easementInMm: 150, easementOutMm: 150 }
    const asked = easementReaching(placed(solved(request)), 500, 'out', piMm + 4000)
    const tried = cornerSolve({ ...request, easementOutMm: asked })
    expect(tried.ok ? 'solved' : tried.problem.kind).toBe('easementsTooLong')
  })

  test('finds its way where only easements are', () => {
    const request = { deflectionRad: 1, radiusMm: null, easementInMm: 400, easementOutMm: 300 }
    const then = placed(solved({ ...request, easementInMm: 520 }))
    expect(easementReaching(placed(solved(request)), 'easement-only', 'in', then.tsMm)).toBeCloseTo(520, 4)
  })

  test('and of a curve of several radii its own easement alone', () => {
    const share = { kind: 'share', share: 1 } as const
    const compound = {
      first: { radiusMm: 600, turn: share },
      next: [{ radiusMm: 900, turn: share, easementMm: 120 }],
    }
    const asked = {
      first: { radius: 600, turn: share },
      next: [{ radius: 900, turn: share, easement: 120 }],
    }
    const request = { deflectionRad: 1.4, radiusMm: compound, easementInMm: 200, easementOutMm: 250 }
    const then = placed(solved({ ...request, easementOutMm: 330 }))
    expect(easementReaching(placed(solved(request)), asked, 'out', then.stMm)).toBeCloseTo(330, 4)
  })
})
