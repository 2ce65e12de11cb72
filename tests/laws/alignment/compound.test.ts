import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import {
  cornerElements,
  cornerPlacePoints,
  cornerPoints,
  cornerSolve,
  easementsLargestFitting,
  radiusLargestFitting,
  traverseSolve,
} from '../../../src/core/alignment/index.ts'
import type { CompoundRequest, CornerRequest, CornerSolution, Traverse } from '../../../src/core/alignment/types.ts'
import { integrate } from '../../support/simpson.ts'

const SEED = 20261201
const DEG = Math.PI / 180

type Arc = CompoundRequest['next'][number]
type Compound = CornerRequest & { readonly radiusMm: CompoundRequest }

const compoundOf = ([first, ...next]: readonly Arc[]): CompoundRequest => {
  if (first === undefined) throw new Error('an arc')
  return { first: { radiusMm: first.radiusMm, turn: first.turn }, next }
}
const arcsOf = ({ first, next }: CompoundRequest): readonly Arc[] => [{ ...first, easementMm: 0 }, ...next]

/** Two to four arcs of 200 to 2000 mm; easements take up to half of the turn, fixed arcs up to half of the rest, one at least has a share. */
const requests: fc.Arbitrary<Compound> = fc
  .record({
    degrees: fc.double({ min: 2, max: 170, noNaN: true }),
    hand: fc.constantFrom(1, -1),
    arcs: fc.array(
      fc.record({
        radiusMm: fc.double({ min: 200, max: 2000, noNaN: true }),
        weight: fc.double({ min: 0.05, max: 1, noNaN: true }),
        isFixed: fc.boolean(),
        easement: fc.oneof(fc.constant(0), fc.double({ min: 1e-6, max: 1, noNaN: true })),
      }),
      { minLength: 2, maxLength: 4 },
    ),
    out: fc.oneof(fc.constant(0), fc.double({ min: 1e-6, max: 1, noNaN: true })),
  })
  .map(({ degrees, hand, arcs, out }) => {
    const turn = degrees * DEG
    // Each easement gets its part of half the turn; what it turns is its length times the mean of the curvatures at its ends.
    const curvatures = [0, ...arcs.map(({ radiusMm }) => 1 / radiusMm), 0]
    const mean = (i: number): number => ((curvatures[i] ?? 0) + (curvatures[i + 1] ?? 0)) / 2
    const easements = [...arcs.map(({ easement }) => easement), out].map((part, i) => (part * turn) / 2 / (arcs.length + 1) / mean(i))
    const weights = arcs.reduce((sum, { weight }) => sum + weight, 0)
    const asked = arcs.map(({ radiusMm, weight, isFixed }, i): Arc => {
      const turnRad = (turn * weight) / weights / 2
      const isFree = i === 0 || !isFixed
      return { radiusMm, easementMm: easements[i] ?? 0, turn: isFree ? { kind: 'share', share: weight } : { kind: 'angle', turnRad } }
    })
    return {
      deflectionRad: hand * turn,
      radiusMm: compoundOf(asked),
      easementInMm: easements[0] ?? 0,
      easementOutMm: easements.at(-1) ?? 0,
    }
  })

const solved = (request: CornerRequest): CornerSolution => {
  const result = cornerSolve(request)
  if (!result.ok) throw new Error(JSON.stringify(result.problem))
  return result.corner
}

/** Rounding of tangent distances grows as the tangents come near to parallel. */
const slack = (corner: CornerSolution): number => (1e-12 * corner.totalLengthMm) / Math.sin(Math.abs(corner.deflectionRad)) + 1e-10

describe('a compound corner', () => {
  test('leads from tangent to tangent: integrated forward it ends on the second tangent at T out from the PI', () => {
    fc.assert(
      fc.property(requests, (request) => {
        const corner = solved(request)
        const end = integrate(cornerElements(corner))
        const d = request.deflectionRad
        // Within 1e-9 of the curve's length, as of Simpson's rule.
        const tolerance = 1e-9 * corner.totalLengthMm + slack(corner)
        expect(Math.abs(end.x - (corner.tangentInMm + corner.tangentOutMm * Math.cos(d)))).toBeLessThan(tolerance)
        expect(Math.abs(end.y - corner.tangentOutMm * Math.sin(d))).toBeLessThan(tolerance)
        expect(Math.abs(end.headingRad - d)).toBeLessThan(1e-11)
      }),
      { seed: SEED, numRuns: 120 },
    )
  })

  test('gives each arc what was asked: fixed turns as they are, the rest in proportion to the shares', () => {
    fc.assert(
      fc.property(requests, (request) => {
        const { arcs, deflectionRad, arcLengthMm, easementInMm, easementOutMm, totalLengthMm } = solved(request)
        const shared = arcsOf(request.radiusMm).flatMap(({ turn, radiusMm }, i) => {
          expect(arcs[i]?.radiusMm).toBe(radiusMm)
          if (turn.kind === 'share') return [(arcs[i]?.turnRad ?? NaN) / turn.share]
          expect(arcs[i]?.turnRad).toBe(turn.turnRad)
          return []
        })
        for (const each of shared) expect(Math.abs(each - (shared[0] ?? NaN))).toBeLessThan(1e-12)
        const curvatures = [0, ...arcs.map(({ radiusMm }) => 1 / radiusMm), 0]
        const turned = [...arcs.map(({ easementMm }) => easementMm), easementOutMm].reduce(
          (sum, mm, i) => sum + (mm * ((curvatures[i] ?? 0) + (curvatures[i + 1] ?? 0))) / 2 + (arcs[i]?.turnRad ?? 0),
          0,
        )
        expect(Math.abs(turned - Math.abs(deflectionRad))).toBeLessThan(1e-12)
        expect(Math.abs(easementInMm + arcLengthMm + easementOutMm - totalLengthMm)).toBeLessThan(1e-9)
      }),
      { seed: SEED + 1, numRuns: 150 },
    )
  })

  test('of equal radii is the plain corner, whatever easements lie between', () => {
    let compared = 0
    fc.assert(
      fc.property(requests, fc.double({ min: 200, max: 2000, noNaN: true }), (request, radiusMm) => {
        const arcs = arcsOf(request.radiusMm).map((arc): Arc => ({ ...arc, radiusMm }))
        const compound = cornerSolve({ ...request, radiusMm: compoundOf(arcs) })
        const plain = cornerSolve({ ...request, radiusMm })
        // Other radii may leave no room for what was asked; then the plain corner has none either, or the fixed arcs are in the way.
        if (!compound.ok) return
        if (!plain.ok) throw new Error('the compound one is solved')
        compared++
        const { arcs: _many, ...many } = compound.corner
        const { arcs: _one, ...one } = plain.corner
        for (const [name, value] of Object.entries(one)) {
          expect(Math.abs((many[name as keyof typeof many] ?? NaN) - value), name).toBeLessThan(1e-9 + slack(plain.corner))
        }
        const a = cornerPoints(compound.corner)
        const b = cornerPoints(plain.corner)
        for (const name of ['ts', 'sc', 'cs', 'st'] as const) {
          expect(Math.hypot(a[name].x - b[name].x, a[name].y - b[name].y), name).toBeLessThan(1e-9)
        }
      }),
      { seed: SEED + 2, numRuns: 150 },
    )
    expect(compared).toBeGreaterThan(40)
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
      { seed: SEED + 3, numRuns: 120 },
    )
  })

  test('run through from the other end it has its arcs and tangents exchanged', () => {
    fc.assert(
      fc.property(requests, (request) => {
        const there = solved(request)
        const arcs = arcsOf(request.radiusMm)
        const turned = arcs.toReversed().map((arc, i): Arc => ({ ...arc, easementMm: arcs[arcs.length - i]?.easementMm ?? 0 }))
        const back = solved({
          deflectionRad: request.deflectionRad,
          radiusMm: compoundOf(turned),
          easementInMm: request.easementOutMm,
          easementOutMm: request.easementInMm,
        })
        expect(Math.abs(back.tangentInMm - there.tangentOutMm)).toBeLessThan(slack(there) + 1e-9)
        expect(Math.abs(back.tangentOutMm - there.tangentInMm)).toBeLessThan(slack(there) + 1e-9)
        expect(Math.abs(back.externalMm - there.externalMm)).toBeLessThan(slack(there) + 1e-8)
        for (const [i, { turnRad }] of there.arcs.toReversed().entries())
          expect(Math.abs(turnRad - (back.arcs[i]?.turnRad ?? NaN))).toBeLessThan(1e-12)
      }),
      { seed: SEED + 4, numRuns: 120 },
    )
  })

  test('stands its external off the PI: no point of the curve is nearer, one is as near', () => {
    fc.assert(
      fc.property(requests, (request) => {
        const corner = solved(request)
        const elements = cornerElements(corner)
        let nearest = Infinity
        let stepMm = 0
        for (const [i, element] of elements.entries()) {
          const before = integrate(elements.slice(0, i))
          stepMm = Math.max(stepMm, element.lengthMm / 100)
          for (let j = 0; j <= 100; j++) {
            const s = (j / 100) * element.lengthMm
            const k = element.k0 + ((element.k1 - element.k0) * j) / 100
            const part = s === 0 ? { x: 0, y: 0 } : integrate([{ lengthMm: s, k0: element.k0, k1: k }], 20)
            const x = before.x + part.x * Math.cos(before.headingRad) - part.y * Math.sin(before.headingRad)
            const y = before.y + part.x * Math.sin(before.headingRad) + part.y * Math.cos(before.headingRad)
            nearest = Math.min(nearest, Math.hypot(x - corner.tangentInMm, y))
          }
        }
        // Simpson's rule at 20 steps errs by 1e-6 of a metre of curve.
        const sampledMm = Math.hypot(corner.externalMm, stepMm / 2) + (stepMm * stepMm) / (8 * corner.radiusMm)
        expect(nearest).toBeGreaterThan(corner.externalMm - 1e-3)
        expect(nearest).toBeLessThan(sampledMm + 1e-3)
      }),
      { seed: SEED + 5, numRuns: 30 },
    )
  })

  test('has its joins on the path where the arcs meet, and the curvature of each arc between them', () => {
    fc.assert(
      fc.property(requests, (request) => {
        const { tangentInMm, tangentOutMm } = solved(request)
        const { deflectionRad } = request
        const alignment = traverseSolve({
          start: { kind: 'free', at: { x: 0, y: 0 } },
          corners: [{ id: 'pi-1', x: tangentInMm + 100, y: 0, ...request }],
          end: {
            kind: 'free',
            at: {
              x: tangentInMm + 100 + (tangentOutMm + 100) * Math.cos(deflectionRad),
              y: (tangentOutMm + 100) * Math.sin(deflectionRad),
            },
          },
        })
        if (!alignment.ok) throw new Error(JSON.stringify(alignment.problems))
        const [place] = alignment.corners
        if (place === undefined) throw new Error('a corner')
        const bounds = [place.scMm, ...place.joins.flatMap(({ fromMm, toMm }) => [fromMm, toMm]), place.csMm]
        expect(bounds.length).toBe(2 * place.solution.arcs.length)
        for (const [i, arc] of place.solution.arcs.entries()) {
          const [from, to] = [bounds[2 * i] ?? NaN, bounds[2 * i + 1] ?? NaN]
          expect(Math.abs(to - from - arc.lengthMm)).toBeLessThan(1e-9)
          if (arc.lengthMm < 1e-3) continue
          const there = alignment.path.elements.find((e) => Math.abs(e.startStationMm - from) < 1e-8 && e.k0 === e.k1 && e.k0 !== 0)
          expect(there?.k0).toBe(Math.sign(deflectionRad) / arc.radiusMm)
        }
        const points = cornerPlacePoints(alignment.path, place)
        expect(points.joins.map(({ from, to }) => [from.stationMm, to.stationMm])).toEqual(
          place.joins.map(({ fromMm, toMm }) => [fromMm, toMm]),
        )
      }),
      { seed: SEED + 6, numRuns: 120 },
    )
  })
})

describe('a compound corner that does not fit', () => {
  test('says by how much its easements are too long, and what part of them just fits', () => {
    let count = 0
    fc.assert(
      fc.property(requests, fc.double({ min: 5, max: 200, noNaN: true }), (request, longer) => {
        const scaled = (factor: number): CornerRequest => {
          const arcs = arcsOf(request.radiusMm).map((arc): Arc => ({ ...arc, easementMm: arc.easementMm * factor }))
          return {
            ...request,
            radiusMm: compoundOf(arcs),
            easementInMm: request.easementInMm * factor,
            easementOutMm: request.easementOutMm * factor,
          }
        }
        const result = cornerSolve(scaled(longer))
        if (result.ok) return
        const { problem } = result
        if (problem.kind !== 'easementsTooLong') throw new Error(problem.kind)
        count++
        expect(problem.excessRad).toBeGreaterThan(0)
        expect(problem.shortByMm / problem.excessRad).toBeCloseTo(solved(request).radiusMm, 6)
        expect(cornerSolve(scaled(longer * problem.fittingFactor * (1 - 1e-9))).ok).toBe(true)
        expect(cornerSolve(scaled(longer * problem.fittingFactor * (1 + 1e-9))).ok).toBe(false)
      }),
      { seed: SEED + 7, numRuns: 150 },
    )
    expect(count).toBeGreaterThan(30)
  })

  const fixed = (...turns: readonly number[]): CornerRequest => ({
    deflectionRad: 1,
    radiusMm: compoundOf(turns.map((turnRad) => ({ radiusMm: 500, easementMm: 0, turn: { kind: 'angle', turnRad } }))),
    easementInMm: 0,
    easementOutMm: 0,
  })

  test('tells fixed arcs that turn too much, or too little with none to take the rest', () => {
    expect(cornerSolve(fixed(0.7, 0.5), 2, { x: 3, y: 4 })).toEqual({
      ok: false,
      problem: { kind: 'arcsMisfit', corner: 2, at: { x: 3, y: 4 }, excessRad: expect.closeTo(0.2, 12) },
    })
    expect(cornerSolve(fixed(0.3, 0.5))).toMatchObject({ problem: { kind: 'arcsMisfit', excessRad: expect.closeTo(-0.2, 12) } })
    expect(cornerSolve(fixed(0.5, 0.5)).ok).toBe(true)
  })

  test.each([
    ['a radius of zero', { radiusMm: 0 }, { kind: 'radiusNotPositive', corner: 0, radiusMm: 0 }],
    ['a radius whose curvature overflows', { radiusMm: 1e-310 }, { kind: 'radiusNotPositive', corner: 0, radiusMm: 1e-310 }],
    ['an easement below zero', { easementMm: -1 }, { kind: 'easementNegative', corner: 0, lengthMm: -1 }],
    ['a share of zero', { turn: { kind: 'share', share: 0 } }, { kind: 'arcWithoutTurn', corner: 0, arc: 1 }],
    ['a turn below zero', { turn: { kind: 'angle', turnRad: -0.1 } }, { kind: 'arcWithoutTurn', corner: 0, arc: 1 }],
    ['a radius that is no number', { radiusMm: NaN }, { kind: 'notFinite', where: 'corner 0 arc 1 radius' }],
    ['an easement without end', { easementMm: Infinity }, { kind: 'notFinite', where: 'corner 0 arc 1 easement' }],
    ['a curvature that changes too fast', { easementMm: 1e-320 }, { kind: 'notFinite', where: 'corner 0' }],
  ] as const)('tells %s', (_, change, problem) => {
    const first: Arc = { radiusMm: 500, easementMm: 0, turn: { kind: 'share', share: 1 } }
    const second: Arc = { radiusMm: 700, easementMm: 50, turn: { kind: 'share', share: 1 }, ...change }
    const request = { deflectionRad: 1, radiusMm: compoundOf([first, second]), easementInMm: 0, easementOutMm: 0 }
    expect(cornerSolve(request)).toEqual({ ok: false, problem })
  })
})

describe('what fits of a compound corner', () => {
  test('are its outer easements, as long as the sides allow; no radius is offered', () => {
    let count = 0
    fc.assert(
      fc.property(requests, fc.double({ min: 0.5, max: 1.5, noNaN: true }), (request, roomy) => {
        const { tangentInMm, tangentOutMm } = solved(request)
        const d = request.deflectionRad
        const traverse = (easementInMm: number, easementOutMm: number): Traverse => ({
          start: { kind: 'free', at: { x: 0, y: 0 } },
          corners: [{ id: 'pi-1', x: tangentInMm * roomy, y: 0, ...request, easementInMm, easementOutMm }],
          end: {
            kind: 'free',
            at: { x: tangentInMm * roomy + tangentOutMm * roomy * Math.cos(d), y: tangentOutMm * roomy * Math.sin(d) },
          },
        })
        const asked = traverse(request.easementInMm, request.easementOutMm)
        expect(radiusLargestFitting(asked, 0)).toBeNull()
        const pair = easementsLargestFitting(asked, 0)
        // Without easements there is nothing to be made longer in proportion.
        if (pair === null || pair.easementInMm + pair.easementOutMm < 1) return
        count++
        expect(traverseSolve(traverse(pair.easementInMm, pair.easementOutMm)).ok).toBe(true)
        expect(traverseSolve(traverse(pair.easementInMm * 1.00001, pair.easementOutMm * 1.00001)).ok).toBe(false)
      }),
      { seed: SEED + 8, numRuns: 120 },
    )
    expect(count).toBeGreaterThan(40)
  })
})
