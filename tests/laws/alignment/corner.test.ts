import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import {
  cornerElements,
  cornerPoints,
  cornerSolve,
  easementByRule,
  easementLengthForShift,
  spiralSolve,
} from '../../../src/core/alignment/index.ts'
import type { CornerSolution } from '../../../src/core/alignment/types.ts'
import { integrate } from '../../support/simpson.ts'

const SEED = 20261125
const DEG = Math.PI / 180

/** Solvable corners of model size: 1 to 170 degrees, both hands, unequal easements that take up to the whole turn. */
const requests = fc
  .record({
    degrees: fc.double({ min: 1, max: 170, noNaN: true }),
    hand: fc.constantFrom(1, -1),
    radiusMm: fc.double({ min: 100, max: 3000, noNaN: true }),
    easedPart: fc.oneof(fc.constantFrom(0, 1e-9, 1), fc.double({ min: 1e-12, max: 1, noNaN: true })),
    inPart: fc.oneof(fc.constantFrom(0, 0.5, 1), fc.double({ min: 1e-12, max: 1, noNaN: true })),
  })
  .map(({ degrees, hand, radiusMm, easedPart, inPart }) => {
    const turn = degrees * DEG
    const easementsMm = 2 * radiusMm * turn * easedPart
    return { deflectionRad: hand * turn, radiusMm, easementInMm: easementsMm * inPart, easementOutMm: easementsMm * (1 - inPart) }
  })

const solved = (request: Parameters<typeof cornerSolve>[0]): CornerSolution => {
  const result = cornerSolve(request)
  if (!result.ok) throw new Error(JSON.stringify(result.problem))
  return result.corner
}

describe('a solved corner', () => {
  test('leads from tangent to tangent: integrated forward it ends on the second tangent at T out from the PI', () => {
    fc.assert(
      fc.property(requests, (request) => {
        const corner = solved(request)
        const end = integrate(cornerElements(corner))
        const d = request.deflectionRad
        // Within 1e-9 of the curve's length, plus rounding of tan near a half turn.
        const tolerance = 1e-9 * corner.totalLengthMm + 1e-9
        expect(Math.abs(end.x - (corner.tangentInMm + corner.tangentOutMm * Math.cos(d)))).toBeLessThan(tolerance)
        expect(Math.abs(end.y - corner.tangentOutMm * Math.sin(d))).toBeLessThan(tolerance)
        expect(Math.abs(end.headingRad - d)).toBeLessThan(1e-11)
      }),
      { seed: SEED, numRuns: 500 },
    )
  })

  test('has end tangents that meet at the PI', () => {
    fc.assert(
      fc.property(requests, (request) => {
        const corner = solved(request)
        const { st } = cornerPoints(corner)
        // The second tangent, run back to the first (the x axis).
        const backMm = st.y / Math.sin(st.headingRad)
        const meetX = st.x - backMm * Math.cos(st.headingRad)
        // Rounding is magnified by 1 / sin of the turn: 57 at one degree.
        expect(Math.abs(meetX - corner.tangentInMm)).toBeLessThan(1e-7)
        expect(Math.abs(backMm - corner.tangentOutMm)).toBeLessThan(1e-7)
      }),
      { seed: SEED + 1, numRuns: 500 },
    )
  })

  test('mirrored is the same with the other sign', () => {
    fc.assert(
      fc.property(requests, (request) => {
        const mirrored = solved({ ...request, deflectionRad: -request.deflectionRad })
        expect({ ...mirrored, deflectionRad: request.deflectionRad }).toEqual(solved(request))
        const a = cornerPoints(mirrored).st
        const b = cornerPoints(solved(request)).st
        expect([a.x, a.y, a.headingRad]).toEqual([b.x, -b.y, -b.headingRad])
      }),
      { seed: SEED + 2, numRuns: 200 },
    )
  })

  test('run through from the other end it has its tangents exchanged', () => {
    fc.assert(
      fc.property(requests, (request) => {
        const there = solved(request)
        const back = solved({ ...request, easementInMm: request.easementOutMm, easementOutMm: request.easementInMm })
        expect(Math.abs(back.tangentInMm - there.tangentOutMm)).toBeLessThan(1e-9)
        expect(Math.abs(back.tangentOutMm - there.tangentInMm)).toBeLessThan(1e-9)
        expect(Math.abs(back.externalMm - there.externalMm)).toBeLessThan(1e-8)
      }),
      { seed: SEED + 3, numRuns: 200 },
    )
  })

  test('stands its external off the PI: no point of the curve is nearer, one is as near', () => {
    fc.assert(
      fc.property(requests, (request) => {
        const corner = solved(request)
        const steps = 200
        const elements = cornerElements(corner)
        const sign = Math.sign(request.deflectionRad)
        let nearest = Infinity
        let lowest = Infinity
        let stepMm = 0
        for (const [i, element] of elements.entries()) {
          stepMm = Math.max(stepMm, element.lengthMm / steps)
          const before = integrate(elements.slice(0, i))
          for (let j = 0; j <= steps; j++) {
            const s = (j / steps) * element.lengthMm
            const k = element.k0 + ((element.k1 - element.k0) * s) / element.lengthMm
            const part = s === 0 ? { x: 0, y: 0 } : integrate([{ lengthMm: s, k0: element.k0, k1: k }], 40)
            const cos = Math.cos(before.headingRad)
            const sin = Math.sin(before.headingRad)
            const x = before.x + part.x * cos - part.y * sin
            const y = before.y + part.x * sin + part.y * cos
            lowest = Math.min(lowest, sign * y)
            nearest = Math.min(nearest, Math.hypot(x - corner.tangentInMm, y))
          }
        }
        expect(nearest).toBeGreaterThan(corner.externalMm - 1e-5)
        // The nearest point is at most half a step from a sample; the curve bends away from the chord by step^2 / 8R.
        const sampledMm = Math.hypot(corner.externalMm, stepMm / 2) + (stepMm * stepMm) / (8 * corner.radiusMm)
        expect(nearest).toBeLessThan(sampledMm + 1e-5)
        expect(lowest).toBeGreaterThan(-1e-5)
      }),
      { seed: SEED + 4, numRuns: 40 },
    )
  })

  test('with equal easements is the handbook one: T = (R + p) tan(D/2) + k, E = (R + p) / cos(D/2) - R', () => {
    fc.assert(
      fc.property(requests, (request) => {
        const easementMm = (request.easementInMm + request.easementOutMm) / 2
        const corner = solved({ ...request, easementInMm: easementMm, easementOutMm: easementMm })
        const half = Math.abs(request.deflectionRad) / 2
        const { shiftMm, kMm } = spiralSolve(easementMm, request.radiusMm)
        const scale = request.radiusMm / Math.cos(half)
        expect(Math.abs(corner.tangentInMm - ((request.radiusMm + shiftMm) * Math.tan(half) + kMm))).toBeLessThan(1e-12 * scale)
        expect(corner.tangentOutMm).toBeCloseTo(corner.tangentInMm, 9)
        expect(Math.abs(corner.externalMm - ((request.radiusMm + shiftMm) / Math.cos(half) - request.radiusMm))).toBeLessThan(1e-9 * scale)
      }),
      { seed: SEED + 5, numRuns: 200 },
    )
  })

  test('goes over into the bare curve as the easements vanish', () => {
    fc.assert(
      fc.property(requests, (request) => {
        const bare = solved({ ...request, easementInMm: 0, easementOutMm: 0 })
        const half = Math.abs(request.deflectionRad) / 2
        expect(Math.abs(bare.tangentInMm - request.radiusMm * Math.tan(half))).toBeLessThan(
          1e-12 * request.radiusMm * Math.tan(half) + 1e-12,
        )
        const eased = solved({ ...request, easementInMm: 1e-6, easementOutMm: 1e-6 })
        // An easement of a millionth moves every point by about half of it.
        expect(Math.abs(eased.tangentInMm - bare.tangentInMm)).toBeLessThan(1e-6)
        expect(Math.abs(eased.externalMm - bare.externalMm)).toBeLessThan(1e-6)
        expect(Math.abs(eased.totalLengthMm - bare.totalLengthMm - 1e-6)).toBeLessThan(1e-9)
      }),
      { seed: SEED + 6, numRuns: 200 },
    )
  })

  test('easement-only leaves no arc and is the corner with R = (L1 + L2) / 2D', () => {
    fc.assert(
      fc.property(
        requests,
        fc.double({ min: 1, max: 2000, noNaN: true }),
        fc.double({ min: 1e-9, max: 2000, noNaN: true }),
        (request, inMm, outMm) => {
          const corner = solved({ deflectionRad: request.deflectionRad, radiusMm: null, easementInMm: inMm, easementOutMm: outMm })
          expect(corner.arcLengthMm).toBe(0)
          expect(corner.radiusMm).toBe((inMm + outMm) / (2 * Math.abs(request.deflectionRad)))
          const end = integrate(cornerElements(corner))
          expect(Math.abs(end.headingRad - request.deflectionRad)).toBeLessThan(1e-11)
          expect(Math.abs(end.y - corner.tangentOutMm * Math.sin(request.deflectionRad))).toBeLessThan(1e-6)
        },
      ),
      { seed: SEED + 7, numRuns: 200 },
    )
  })

  test('too long easements: the factor that is offered fits with no arc left', () => {
    fc.assert(
      fc.property(requests, fc.double({ min: 1.0001, max: 50, noNaN: true }), (request, over) => {
        const turn = Math.abs(request.deflectionRad)
        const longMm = request.radiusMm * turn * over
        const result = cornerSolve({ ...request, easementInMm: longMm, easementOutMm: longMm })
        if (result.ok || result.problem.kind !== 'easementsTooLong') throw new Error('expected easementsTooLong')
        expect(Math.abs(result.problem.excessRad - turn * (over - 1))).toBeLessThan(1e-9)
        expect(Math.abs(result.problem.shortByMm - request.radiusMm * turn * (over - 1))).toBeLessThan(1e-6)
        const fitting = longMm * result.problem.fittingFactor
        expect(solved({ ...request, easementInMm: fitting, easementOutMm: fitting }).arcLengthMm).toBeLessThan(1e-8)
      }),
      { seed: SEED + 8, numRuns: 200 },
    )
  })
})

describe('easement from shift', () => {
  test('has that shift', () => {
    fc.assert(
      fc.property(fc.double({ min: 50, max: 5000, noNaN: true }), fc.double({ min: 1e-6, max: 1, noNaN: true }), (radiusMm, part) => {
        const most = spiralSolve(2 * Math.PI * radiusMm, radiusMm).shiftMm
        const result = easementLengthForShift(radiusMm, part * most)
        if (!result.ok) throw new Error(result.problem.kind)
        expect(Math.abs(spiralSolve(result.lengthMm, radiusMm).shiftMm - part * most)).toBeLessThan(1e-9)
      }),
      { seed: SEED + 9, numRuns: 300 },
    )
  })

  test('the shift grows with the length up to a half turn, so there is one answer', () => {
    const shifts = Array.from({ length: 1000 }, (_, i) => spiralSolve((2 * Math.PI * (i + 1)) / 1000, 1).shiftMm)
    for (const [i, shift] of shifts.entries()) if (i > 0) expect(shift).toBeGreaterThan(shifts[i - 1] ?? Infinity)
  })

  test('a rule gives what it says', () => {
    expect(easementByRule({ kind: 'none' }, 600)).toEqual({ ok: true, lengthMm: 0 })
    expect(easementByRule({ kind: 'length', lengthMm: 250 }, 600)).toEqual({ ok: true, lengthMm: 250 })
    expect(easementByRule({ kind: 'shift', shiftMm: 9 }, 600)).toEqual(easementLengthForShift(600, 9))
  })
})
