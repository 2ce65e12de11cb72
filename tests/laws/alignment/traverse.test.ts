import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { easementsLargestFitting, radiusLargestFitting, traverseSolve } from '../../../src/core/alignment/index.ts'
import type { Alignment, Traverse, TraverseCorner } from '../../../src/core/alignment/types.ts'
import { elementEnd, poseCompose } from '../../../src/core/geom/index.ts'
import type { Pose } from '../../../src/core/geom/types.ts'

const SEED = 20261126

type Solved = Extract<Alignment, { ok: true }>
const isSolved = (alignment: Alignment): alignment is Solved => alignment.ok

const coordinate = fc.integer({ min: -5000, max: 5000 })
const corner = fc.record({
  x: coordinate,
  y: coordinate,
  radiusMm: fc.integer({ min: 50, max: 500 }),
  easementInMm: fc.integer({ min: 0, max: 100 }),
  easementOutMm: fc.integer({ min: 0, max: 100 }),
})
const named = (corners: readonly Omit<TraverseCorner, 'id'>[]): TraverseCorner[] => corners.map((c, i) => ({ id: `c${i}`, ...c }))

const openTraverses = fc
  .record({
    start: fc.record({ x: coordinate, y: coordinate }),
    end: fc.record({ x: coordinate, y: coordinate }),
    corners: fc.array(corner, { maxLength: 6 }),
  })
  .map(
    ({ start, end, corners }): Traverse => ({
      start: { kind: 'free', at: start },
      corners: named(corners),
      end: { kind: 'free', at: end },
    }),
  )

/** Loops round the origin: PIs by rising direction, so that most of them can be solved; hands change where the polygon dents. */
const loops = fc
  .record({
    start: fc.record({ x: coordinate, y: coordinate }),
    arms: fc.array(fc.record({ armMm: fc.integer({ min: 2000, max: 4000 }), ...easedFields() }), { minLength: 3, maxLength: 9 }),
  })
  .map(({ start, arms }): Traverse => {
    const corners = arms.map(({ armMm, ...rest }, i) => {
      const direction = (2 * Math.PI * i) / arms.length
      return { x: armMm * Math.cos(direction), y: armMm * Math.sin(direction), ...rest }
    })
    return { start: { kind: 'free', at: start }, corners: named(corners), end: { kind: 'closed' } }
  })

function easedFields(): { radiusMm: fc.Arbitrary<number>; easementInMm: fc.Arbitrary<number>; easementOutMm: fc.Arbitrary<number> } {
  return {
    radiusMm: fc.integer({ min: 100, max: 500 }),
    easementInMm: fc.integer({ min: 0, max: 60 }),
    easementOutMm: fc.integer({ min: 0, max: 60 }),
  }
}

/** Largest gap between an element's end and the next one's start. */
function gaps(alignment: Solved): { placeMm: number; headingRad: number; stationMm: number; curvature: number } {
  const worst = { placeMm: 0, headingRad: 0, stationMm: 0, curvature: 0 }
  const { elements, end } = alignment.path
  for (const [i, element] of elements.entries()) {
    const next = elements[i + 1]
    const here = elementEnd(element, element.start)
    const there = next?.start ?? end
    worst.placeMm = Math.max(worst.placeMm, Math.hypot(here.x - there.x, here.y - there.y))
    worst.headingRad = Math.max(worst.headingRad, Math.abs(here.headingRad - there.headingRad))
    worst.stationMm = Math.max(
      worst.stationMm,
      Math.abs(element.startStationMm + element.lengthMm - (next?.startStationMm ?? alignment.path.lengthMm)),
    )
  }
  return worst
}

describe('a solved traverse', () => {
  test('is one line without a gap, from its start to its end, with every corner where its stations say', () => {
    let solvedCount = 0
    fc.assert(
      fc.property(openTraverses, (traverse) => {
        const alignment = traverseSolve(traverse)
        if (!isSolved(alignment)) return
        solvedCount++
        const worst = gaps(alignment)
        // 1e-9 of the 14 m that the room measures across would be 1e-5; rounding alone stays far below.
        expect(worst.placeMm).toBeLessThan(1e-8)
        expect(worst.headingRad).toBeLessThan(1e-11)
        expect(worst.stationMm).toBeLessThan(1e-8)
        if (traverse.start.kind !== 'free' || traverse.end.kind !== 'free') return
        const first = alignment.path.elements[0]?.start
        expect(Math.hypot((first?.x ?? NaN) - traverse.start.at.x, (first?.y ?? NaN) - traverse.start.at.y)).toBeLessThan(1e-8)
        expect(Math.hypot(alignment.path.end.x - traverse.end.at.x, alignment.path.end.y - traverse.end.at.y)).toBeLessThan(1e-8)
        let turned = alignment.path.elements[0]?.start.headingRad ?? NaN
        for (const place of alignment.corners) {
          turned += place.solution.deflectionRad
          expect(place.scMm - place.tsMm).toBeCloseTo(place.solution.easementInMm, 8)
          expect(place.csMm - place.scMm).toBeCloseTo(place.solution.arcLengthMm, 8)
          expect(place.stMm - place.csMm).toBeCloseTo(place.solution.easementOutMm, 8)
        }
        expect(Math.abs(alignment.path.end.headingRad - turned)).toBeLessThan(1e-11)
      }),
      { seed: SEED, numRuns: 600 },
    )
    expect(solvedCount).toBeGreaterThan(100)
  })

  test('closed returns to where it began, one or more whole turns on', () => {
    let solvedCount = 0
    fc.assert(
      fc.property(loops, (traverse) => {
        const alignment = traverseSolve(traverse)
        if (!isSolved(alignment)) return
        solvedCount++
        expect(alignment.isClosed).toBe(true)
        const first = alignment.path.elements[0]?.start
        if (first === undefined) throw new Error('a loop has elements')
        expect(Math.hypot(alignment.path.end.x - first.x, alignment.path.end.y - first.y)).toBeLessThan(1e-6)
        const turns = (alignment.path.end.headingRad - first.headingRad) / (2 * Math.PI)
        expect(Math.abs(turns - Math.round(turns)) * 2 * Math.PI).toBeLessThan(1e-9)
        expect(gaps(alignment).placeMm).toBeLessThan(1e-8)
        // No point of the first and last tangent lies nearer to the stored start than station zero.
        if (traverse.start.kind !== 'free') return
        const { at } = traverse.start
        const zeroMm = Math.hypot(first.x - at.x, first.y - at.y)
        const lead = alignment.path.elements[0]
        const close = alignment.path.elements.at(-1)
        for (const element of [lead, close]) {
          if (element === undefined || element.k0 !== 0 || element.k1 !== 0) continue
          for (const part of [0, 0.5, 1]) {
            const x = element.start.x + part * element.lengthMm * Math.cos(element.start.headingRad)
            const y = element.start.y + part * element.lengthMm * Math.sin(element.start.headingRad)
            expect(Math.hypot(x - at.x, y - at.y)).toBeGreaterThan(zeroMm - 1e-8)
          }
        }
      }),
      { seed: SEED + 1, numRuns: 300 },
    )
    expect(solvedCount).toBeGreaterThan(150)
  })

  test('moves with its traverse', () => {
    const frames = fc.record({ x: coordinate, y: coordinate, headingRad: fc.double({ min: -3, max: 3, noNaN: true }) })
    fc.assert(
      fc.property(openTraverses, frames, (traverse, frame) => {
        const here = traverseSolve(traverse)
        const there = traverseSolve(traverseMoved(traverse, frame))
        expect(there.ok).toBe(here.ok)
        if (!here.ok || !there.ok) {
          if (here.ok || there.ok) throw new Error('one is solved and one is not')
          expect(there.problems.map((problem) => problem.kind)).toEqual(here.problems.map((problem) => problem.kind))
          return
        }
        expect(there.path.elements.length).toBe(here.path.elements.length)
        for (const [i, element] of here.path.elements.entries()) {
          const expected = poseCompose(frame, element.start)
          const moved = there.path.elements[i]?.start
          expect(Math.hypot((moved?.x ?? NaN) - expected.x, (moved?.y ?? NaN) - expected.y)).toBeLessThan(1e-6)
        }
      }),
      { seed: SEED + 2, numRuns: 200 },
    )
  })

  test('reports every fault by numbers that are right, and draws what it can', () => {
    fc.assert(
      fc.property(openTraverses, (traverse) => {
        const alignment = traverseSolve(traverse)
        if (alignment.ok) return
        expect(alignment.problems.length).toBeGreaterThan(0)
        for (const problem of alignment.problems) {
          if (problem.kind !== 'sideTooShort') continue
          expect(problem.shortByMm).toBeCloseTo(problem.needMm - problem.haveMm, 9)
          const a = alignment.polygon[problem.side]
          const b = alignment.polygon[problem.side + 1]
          expect(Math.hypot((a?.x ?? NaN) - (b?.x ?? NaN), (a?.y ?? NaN) - (b?.y ?? NaN))).toBeCloseTo(problem.haveMm, 6)
        }
        for (const piece of alignment.pieces) expect(piece.lengthMm).toBeGreaterThan(0)
      }),
      { seed: SEED + 3, numRuns: 400 },
    )
  })
})

function traverseMoved(traverse: Traverse, frame: Pose): Traverse {
  const place = (point: { readonly x: number; readonly y: number }): { x: number; y: number } => {
    const { x, y } = poseCompose(frame, { ...point, headingRad: 0 })
    return { x, y }
  }
  const { start, end } = traverse
  return {
    start: start.kind === 'free' ? { kind: 'free', at: place(start.at) } : start,
    corners: traverse.corners.map((c) => ({ ...c, ...place(c) })),
    end: end.kind === 'free' ? { kind: 'free', at: place(end.at) } : end,
  }
}

describe('what fits', () => {
  const withCorner = (traverse: Traverse, index: number, change: Partial<TraverseCorner>): Traverse => ({
    ...traverse,
    corners: traverse.corners.map((c, i) => (i === index ? { ...c, ...change } : c)),
  })

  const faultsOf = (alignment: Alignment, corner: number, count: number, isClosed: boolean): number => {
    if (alignment.ok) return 0
    const after = isClosed ? (corner + 1) % count : corner + 1
    return alignment.problems.filter(
      (problem) =>
        (problem.kind === 'sideTooShort' && (problem.side === corner || problem.side === after)) ||
        (problem.kind === 'easementsTooLong' && problem.corner === corner),
    ).length
  }

  test.each([
    ['open', openTraverses],
    ['closed', loops],
  ])('the largest radius fits and a little more does not (%s)', (_, traverses) => {
    let count = 0
    fc.assert(
      fc.property(traverses, fc.nat({ max: 8 }), (traverse, pick) => {
        if (traverse.corners.length === 0) return
        const index = pick % traverse.corners.length
        const radiusMm = radiusLargestFitting(traverse, index)
        if (radiusMm === null) return
        count++
        const n = traverse.corners.length
        const isClosed = traverse.end.kind === 'closed'
        expect(faultsOf(traverseSolve(withCorner(traverse, index, { radiusMm })), index, n, isClosed)).toBe(0)
        const more = traverseSolve(withCorner(traverse, index, { radiusMm: radiusMm * 1.000001 + 1e-3 }))
        expect(faultsOf(more, index, n, isClosed)).toBeGreaterThan(0)
      }),
      { seed: SEED + 4, numRuns: 300 },
    )
    expect(count).toBeGreaterThan(100)
  })

  test.each([
    ['open', openTraverses],
    ['closed', loops],
  ])('the largest easements fit and longer ones do not (%s)', (_, traverses) => {
    let count = 0
    fc.assert(
      fc.property(traverses, fc.nat({ max: 8 }), fc.boolean(), (traverse, pick, isEasementOnly) => {
        if (traverse.corners.length === 0) return
        const index = pick % traverse.corners.length
        const asked = isEasementOnly ? withCorner(traverse, index, { radiusMm: null, easementInMm: 30, easementOutMm: 70 }) : traverse
        const pair = easementsLargestFitting(asked, index)
        if (pair === null) return
        count++
        const n = traverse.corners.length
        const isClosed = traverse.end.kind === 'closed'
        expect(faultsOf(traverseSolve(withCorner(asked, index, pair)), index, n, isClosed)).toBe(0)
        const more = { easementInMm: pair.easementInMm * 1.00001 + 1e-3, easementOutMm: pair.easementOutMm * 1.00001 + 1e-3 }
        expect(faultsOf(traverseSolve(withCorner(asked, index, more)), index, n, isClosed)).toBeGreaterThan(0)
      }),
      { seed: SEED + 5, numRuns: 300 },
    )
    expect(count).toBeGreaterThan(100)
  })
})

describe('any numbers at all', () => {
  const wild = fc.oneof(
    fc.double(),
    fc.constantFrom(0, -0, NaN, Infinity, -Infinity, 1e308, -1e308, 1e200, 1e-320, 5e-324),
    fc.integer({ min: -3, max: 3 }),
  )
  const wildCorner = fc.record({ x: wild, y: wild, radiusMm: fc.oneof(wild, fc.constant(null)), easementInMm: wild, easementOutMm: wild })
  const wildEnd = fc.oneof(
    fc.record({ kind: fc.constant('free' as const), at: fc.record({ x: wild, y: wild }) }),
    fc.record({ kind: fc.constant('leg' as const), pose: fc.record({ x: wild, y: wild, headingRad: wild }), turnout: fc.constant('t') }),
  )

  const hasOnlyNumbers = (value: unknown): boolean => {
    if (typeof value === 'number') return Number.isFinite(value)
    if (Array.isArray(value)) return value.every(hasOnlyNumbers)
    if (typeof value === 'object' && value !== null) return Object.values(value).every(hasOnlyNumbers)
    return true
  }

  test('neither throw nor come out as NaN, except in the problem that names them', () => {
    fc.assert(
      fc.property(
        wildEnd,
        fc.array(wildCorner, { maxLength: 4 }),
        fc.oneof(wildEnd, fc.constant({ kind: 'closed' as const })),
        (start, corners, end) => {
          const traverse: Traverse = { start, corners: named(corners), end }
          const alignment = traverseSolve(traverse)
          if (alignment.ok) {
            expect(hasOnlyNumbers(alignment)).toBe(true)
          } else {
            expect(alignment.problems.length).toBeGreaterThan(0)
            expect(hasOnlyNumbers(alignment)).toBe(true)
          }
          for (const i of corners.keys()) {
            expect(hasOnlyNumbers([radiusLargestFitting(traverse, i), easementsLargestFitting(traverse, i)])).toBe(true)
          }
        },
      ),
      { seed: SEED + 6, numRuns: 2000 },
    )
  })
})
