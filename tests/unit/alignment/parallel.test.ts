import { describe, expect, test } from 'vitest'
import { parallelSolve, traverseSolve } from '../../../src/core/alignment/index.ts'
import type { ParallelAnswer, ParallelRequest, SolvedAlignment } from '../../../src/core/alignment/index.ts'
import type { CompoundRequest, Traverse, TraverseCorner } from '../../../src/core/alignment/types.ts'
import { pathNearest, pathPoseAt } from '../../../src/core/geom/index.ts'

const IN = 25.4

function solved(traverse: Traverse): SolvedAlignment {
  const alignment = traverseSolve(traverse)
  if (!alignment.ok) throw new Error(JSON.stringify(alignment.problems))
  return alignment
}

const bend = (corner: Partial<TraverseCorner>, sideMm = 2000): Traverse => ({
  start: { kind: 'free', at: { x: 0, y: 0 } },
  corners: [{ id: 'c', x: sideMm, y: 0, radiusMm: 800, easementInMm: 0, easementOutMm: 0, ...corner }],
  end: { kind: 'free', at: { x: sideMm, y: sideMm } },
})

function beside(
  alignment: SolvedAlignment,
  offsetMm: number,
  curveOffsetMm = offsetMm,
  rest: Partial<ParallelRequest> = {},
): Extract<ParallelAnswer, { ok: true }> {
  const answer = parallelSolve({ alignment, stretch: { kind: 'whole' }, offsetMm, curveOffsetMm, minRadiusMm: 100, ...rest })
  if (!answer.ok) throw new Error(JSON.stringify(answer.problems))
  return answer
}

/** Exact where both lines run straight or about one centre: sums of a few metres lose a billionth of a millimetre. */
const EXACT = 8

describe('beside one curve', () => {
  test('HO, outer radius 32 3/8 in with easements of 15 in, centres 2 in and 2 3/8 in on the curve: inner easements of 21.9 in', () => {
    const outer = solved(bend({ radiusMm: 32.375 * IN, easementInMm: 15 * IN, easementOutMm: 15 * IN }))
    const { alignment, spacing, traverse } = beside(outer, 2 * IN, 2.375 * IN)
    const solution = alignment.corners[0]?.solution
    // p = 15^2 / (24 x 32.375) - 15^4 / (2688 x 32.375^3) = .2896 - .0006; .289 + .375 = .664; sqrt(24 x 30 x .664) = 21.87, and a little more.
    expect((outer.corners[0]?.solution.shiftInMm ?? 0) / IN).toBeCloseTo(0.289, 3)
    expect((solution?.shiftInMm ?? 0) / IN).toBeCloseTo(0.664, 3)
    expect((solution?.radiusMm ?? 0) / IN).toBeCloseTo(30, 9)
    expect((solution?.easementInMm ?? 0) / IN).toBeCloseTo(21.9, 1)
    expect(traverse.corners).toHaveLength(1)
    expect(spacing.least.spacingMm / IN).toBeCloseTo(2, 9)
    expect(spacing.most.spacingMm / IN).toBeCloseTo(2.375, 9)
  })

  test('a bare curve keeps bare concentric neighbours on both sides', () => {
    const line = solved(bend({}))
    for (const [offset, radius] of [
      [50, 750],
      [-50, 850],
    ] as const) {
      const { traverse, spacing } = beside(line, offset)
      expect(traverse.corners[0]).toMatchObject({ radiusMm: radius, easementInMm: 0, easementOutMm: 0 })
      // The PI lies where both sides are moved by the offset.
      expect(traverse.corners[0]?.x).toBeCloseTo(2000 - offset, EXACT)
      expect(traverse.corners[0]?.y).toBeCloseTo(offset, EXACT)
      expect(spacing.least.spacingMm).toBeCloseTo(50, EXACT)
      expect(spacing.most.spacingMm).toBeCloseTo(50, EXACT)
    }
  })

  test('unequal easements follow each by its own shift', () => {
    const own = solved(bend({ easementInMm: 400, easementOutMm: 250 }))
    const inner = beside(own, 50).alignment.corners[0]?.solution
    const outer = own.corners[0]?.solution
    expect(inner?.shiftInMm).toBeCloseTo(outer?.shiftInMm ?? 0, EXACT)
    expect(inner?.shiftOutMm).toBeCloseTo(outer?.shiftOutMm ?? 0, EXACT)
    // A shorter easement shifts a sharper curve as much.
    expect(inner?.easementInMm ?? 0).toBeLessThan(400)
    expect(inner?.easementOutMm ?? 0).toBeLessThan(250)
  })

  test('an easement-only curve has an easement-only neighbour with the wanted centres at its middle', () => {
    const line = solved(bend({ radiusMm: null, easementInMm: 700, easementOutMm: 700 }))
    const { alignment, remarks, spacing } = beside(line, 50)
    expect(alignment.corners[0]?.solution.arcLengthMm).toBe(0)
    expect(remarks).toEqual([])
    const place = line.corners[0]
    const middle = pathPoseAt(line.path, ((place?.tsMm ?? 0) + (place?.stMm ?? 0)) / 2)
    expect(pathNearest(alignment.path, middle).distanceMm).toBeCloseTo(50, EXACT)
    // Both are alike in shape and not in size, so centres sway by some tenths of a millimetre between.
    expect(spacing.least.spacingMm).toBeGreaterThan(49)
    expect(spacing.most.spacingMm).toBeLessThan(51)
  })

  test('a curve with hardly any arc says that its inner neighbour has none', () => {
    // The turn is 280 x pi/2 = 440 mm of arc, easements take 430 of it. Inside, R is 220, arc 346, and easements shrink as sqrt(R): 381.
    const line = solved(bend({ radiusMm: 280, easementInMm: 430, easementOutMm: 430 }))
    const { remarks, alignment } = beside(line, 60)
    expect(remarks).toContainEqual({ kind: 'easementOnly', corner: 0, at: { x: 2000, y: 0 } })
    expect(alignment.corners[0]?.solution.arcLengthMm).toBe(0)
  })
})

describe('curves of several radii', () => {
  const compound = (between: number): CompoundRequest => ({
    first: { radiusMm: 1200, turn: { kind: 'angle', turnRad: 0.4 } },
    next: [
      { radiusMm: 700, turn: { kind: 'share', share: 1 }, easementMm: between },
      { radiusMm: 1000, turn: { kind: 'angle', turnRad: 0.2 }, easementMm: between },
    ],
  })

  test.each([0, 120])('keep every centre, with easements of %d mm between the arcs', (between) => {
    const line = solved(bend({ radiusMm: compound(between), easementInMm: 200, easementOutMm: 150 }, 3000))
    for (const offset of [55, -55]) {
      const { alignment } = beside(line, offset)
      const arcs = alignment.path.elements.filter(({ k0, k1 }) => k0 === k1 && k0 !== 0)
      expect(arcs.map(({ k0 }) => 1 / k0)).toEqual([1200 - offset, 700 - offset, 1000 - offset].map((r) => expect.closeTo(r, EXACT)))
      for (const { startStationMm, lengthMm } of arcs) {
        const pose = pathPoseAt(alignment.path, startStationMm + lengthMm / 2)
        expect(pathNearest(line.path, pose).distanceMm).toBeCloseTo(55, EXACT)
      }
    }
  })

  test('say which arc has nothing left', () => {
    const short: CompoundRequest = {
      first: { radiusMm: 1200, turn: { kind: 'angle', turnRad: 0.02 } },
      next: [{ radiusMm: 600, turn: { kind: 'share', share: 1 }, easementMm: 200 }],
    }
    const line = solved(bend({ radiusMm: short, easementInMm: 300, easementOutMm: 150 }, 3000))
    const request = { alignment: line, stretch: { kind: 'whole' }, offsetMm: 50, curveOffsetMm: 60, minRadiusMm: 100 } as const
    expect(parallelSolve(request)).toMatchObject({ ok: false, problems: [{ kind: 'noArcLeft', corner: 0, arc: 0 }] })
  })
})

describe('a stretch of a line', () => {
  const line = solved(bend({ easementInMm: 300, easementOutMm: 300 }))
  const place = line.corners[0]
  if (place === undefined) throw new Error('no corner')
  const between = (fromMm: number, toMm: number): ReturnType<typeof beside> =>
    beside(line, 50, 50, { stretch: { kind: 'between', fromMm, toMm } })

  test('on a tangent is a straight of its length', () => {
    const { traverse, alignment } = between(100, 900)
    expect(traverse).toMatchObject({ corners: [], start: { at: { x: 100, y: 50 } }, end: { at: { x: 900, y: 50 } } })
    expect(alignment.path.lengthMm).toBeCloseTo(800, EXACT)
  })

  test('that ends in an arc ends beside it, in line with it', () => {
    const toMm = (place.scMm + place.csMm) / 2
    const { alignment, spacing } = between(100, toMm)
    const own = pathPoseAt(line.path, toMm)
    expect(alignment.path.end.headingRad).toBeCloseTo(own.headingRad, 10)
    expect(alignment.path.end.x).toBeCloseTo(own.x - 50 * Math.sin(own.headingRad), EXACT)
    expect(alignment.path.end.y).toBeCloseTo(own.y + 50 * Math.cos(own.headingRad), EXACT)
    expect(spacing.most.spacingMm).toBeCloseTo(50, EXACT)
  })

  test('from arc to arc is an arc', () => {
    const { alignment } = between(place.scMm + 50, place.csMm - 50)
    expect(alignment.path.elements).toHaveLength(1)
    expect(alignment.path.elements[0]?.k0).toBeCloseTo(1 / 750, 12)
    expect(alignment.path.lengthMm).toBeCloseTo(((place.csMm - place.scMm - 100) * 750) / 800, EXACT)
  })

  test('whose ends lie in easements takes them to the tangents', () => {
    const { fromMm, toMm, traverse } = between(place.tsMm + 100, place.csMm + 100)
    expect([fromMm, toMm]).toEqual([place.tsMm, place.stMm])
    expect(traverse.corners).toHaveLength(1)
  })

  test('of nothing, or off the line, is refused', () => {
    for (const [fromMm, toMm] of [
      [100, 100],
      [500, 300],
      [0, line.path.lengthMm + 1],
      [place.tsMm + 10, place.tsMm + 20],
    ] as const) {
      const request = {
        alignment: line,
        stretch: { kind: 'between', fromMm, toMm },
        offsetMm: 50,
        curveOffsetMm: 50,
        minRadiusMm: 1,
      } as const
      expect(parallelSolve(request)).toMatchObject({ ok: false, problems: [{ kind: 'stretch' }] })
    }
  })
})

describe('beside a loop', () => {
  const square = (...easement: readonly [number, number]): Traverse => ({
    start: { kind: 'free', at: { x: 1000, y: 0 } },
    corners: [
      [2400, 0],
      [2400, 1800],
      [0, 1800],
      [0, 0],
    ].map(([x, y], i) => ({ id: `c${i}`, x: x ?? 0, y: y ?? 0, radiusMm: 600, easementInMm: easement[0], easementOutMm: easement[1] })),
    end: { kind: 'closed' },
  })

  test('is a loop', () => {
    const { alignment, traverse, spacing } = beside(solved(square(200, 200)), -50, -50)
    expect(alignment.isClosed).toBe(true)
    expect(traverse.corners.map(({ radiusMm }) => radiusMm)).toEqual([650, 650, 650, 650])
    expect(spacing.most.spacingMm).toBeCloseTo(50, EXACT)
    expect(spacing.least.spacingMm).toBeGreaterThan(49.8)
  })

  test('a stretch may run on past station zero', () => {
    const line = solved(square(200, 200))
    const { traverse, fromMm, toMm } = beside(line, 50, 50, {
      stretch: { kind: 'between', fromMm: line.path.lengthMm - 300, toMm: line.path.lengthMm + 2600 },
    })
    expect(traverse.corners).toHaveLength(2)
    expect(toMm - fromMm).toBeGreaterThan(2000)
    expect(traverse.start).toMatchObject({ kind: 'free', at: { y: expect.closeTo(50, 6) } })
  })
})

describe('what hinders a parallel', () => {
  const line = solved(bend({ easementInMm: 300, easementOutMm: 300 }))
  const asked = (offsetMm: number, curveOffsetMm: number, of = line): ParallelAnswer =>
    parallelSolve({ alignment: of, stretch: { kind: 'whole' }, offsetMm, curveOffsetMm, minRadiusMm: 760 })

  test('a curve whose centre is reached', () => {
    expect(asked(900, 900)).toMatchObject({ ok: false, problems: [{ kind: 'radiusCollapses', corner: 0, radiusMm: -100 }] })
  })

  test('widening outside by more than the easement shifts, with the most that can be had', () => {
    const answer = asked(-50, -60)
    const problem = answer.ok ? undefined : answer.problems[0]
    if (problem?.kind !== 'wideningTooGreat') throw new Error('not refused')
    expect(problem.mostMm).toBeCloseTo(-50 - (line.corners[0]?.solution.shiftInMm ?? 0), EXACT)
    expect(asked(-50, problem.mostMm).ok).toBe(true)
    expect(asked(-50, problem.mostMm - 0.01).ok).toBe(false)
  })

  test('a side too short for the longer easement is the problem of the new line', () => {
    const tight = solved({ ...bend({ easementInMm: 300, easementOutMm: 300 }), start: { kind: 'free', at: { x: 1045, y: 0 } } })
    expect(asked(50, 50, tight).ok).toBe(true)
    expect(asked(50, 62, tight)).toMatchObject({ ok: false, problems: [{ kind: 'line', problem: { kind: 'sideTooShort', side: 0 } }] })
  })

  test('a radius under the minimum is a remark', () => {
    const answer = asked(50, 50)
    expect(answer.ok ? answer.remarks : []).toEqual([
      { kind: 'belowMinimum', corner: 0, at: { x: 2000, y: 0 }, radiusMm: 750, limitMm: 760 },
    ])
  })

  test('offsets of two minds, or none', () => {
    expect(asked(50, -50)).toMatchObject({ ok: false, problems: [{ kind: 'offsets' }] })
    expect(asked(0, 0)).toMatchObject({ ok: false, problems: [{ kind: 'offsets' }] })
    expect(asked(Number.NaN, 50)).toEqual({ ok: false, problems: [{ kind: 'notFinite', where: 'offset' }], traverse: null })
  })
})
