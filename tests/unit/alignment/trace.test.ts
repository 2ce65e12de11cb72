import { describe, expect, it } from 'vitest'
import { traceSolve } from '../../../src/core/alignment/index.ts'
import type { TraceOptions, TraceSolution } from '../../../src/core/alignment/index.ts'
import { pathArc, pathPoseAt } from '../../../src/core/geom/index.ts'
import type { Point } from '../../../src/core/geom/index.ts'
import { aTraverse, pathApart, solvedPath, surveyed } from '../../support/tracing.ts'

const options: TraceOptions = { toleranceMm: 1, isClosed: false }

function traced(points: readonly Point[], change: Partial<TraceOptions> = {}): TraceSolution {
  const answer = traceSolve(points, { ...options, ...change })
  if (!answer.ok) throw new Error(JSON.stringify(answer.problem))
  return answer.trace
}

const problemOf = (points: readonly Point[], change: Partial<TraceOptions> = {}) => {
  const answer = traceSolve(points, { ...options, ...change })
  return answer.ok ? null : answer.problem
}

describe('tracing what lies on a line', () => {
  it('three points on one line are that line', () => {
    const trace = traced([
      { x: 0, y: 0 },
      { x: 300, y: 400 },
      { x: 600, y: 800 },
    ])
    expect(trace.traverse.corners).toEqual([])
    expect(trace.path.lengthMm).toBeCloseTo(1000, 6)
    expect(trace.worstMm).toBeLessThan(1e-9)
    expect(trace.isWithin).toBe(true)
  })

  it('a simple curve gives back its PI and its radius, without easements', () => {
    const path = solvedPath(aTraverse([0, 0], [[1000, 0, 500, 0, 0]], [1000, 1000]))
    const trace = traced(surveyed(path, 60, 0, 0, 1).points)
    expect(trace.traverse.corners).toHaveLength(1)
    const [corner] = trace.traverse.corners
    // 1e-4 mm: what a radius and a PI can be told from offsets of 1e-6 mm over a quarter circle, and more.
    expect(corner?.x).toBeCloseTo(1000, 4)
    expect(corner?.y).toBeCloseTo(0, 4)
    expect(corner?.radiusMm).toBeCloseTo(500, 4)
    expect([corner?.easementInMm, corner?.easementOutMm]).toEqual([0, 0])
    expect(trace.worstMm).toBeLessThan(1e-6)
  })

  it('unequal easements are told apart', () => {
    const path = solvedPath(aTraverse([0, 0], [[1400, 0, 600, 240, 90]], [2200, 1400]))
    const [corner] = traced(surveyed(path, 120, 0, 0, 1).points).traverse.corners
    expect(corner?.radiusMm).toBeCloseTo(600, 3)
    expect(corner?.easementInMm).toBeCloseTo(240, 3)
    expect(corner?.easementOutMm).toBeCloseTo(90, 3)
  })

  it('a closed line closes, wherever its points begin', () => {
    const traverse = aTraverse(
      [1000, 0],
      [
        [0, 0, 450, 100, 100],
        [2400, 0, 500, 100, 100],
        [2400, 1500, 600, 0, 0],
        [0, 1500, 450, 100, 100],
      ],
      'closed',
    )
    const path = solvedPath(traverse)
    // Half way round: in the middle of the third side.
    const points = Array.from({ length: 160 }, (_, i) => pathPoseAt(path, (path.lengthMm * ((i + 80) % 160)) / 160))
    const trace = traced(points, { isClosed: true })
    expect(trace.traverse.end.kind).toBe('closed')
    expect(trace.traverse.corners).toHaveLength(4)
    expect(pathApart(path, trace.path)).toBeLessThan(1e-5)
    expect(trace.residuals).toHaveLength(160)
  })

  it('points that begin and end within one curve give a line that holds them', () => {
    const arc = pathArc({ x: 0, y: 0, headingRad: 0 }, 800, 900)
    const points = Array.from({ length: 40 }, (_, i) => pathPoseAt(arc, (900 * i) / 39))
    const trace = traced(points)
    expect(trace.traverse.corners).toHaveLength(1)
    expect(trace.traverse.corners[0]?.radiusMm).toBeCloseTo(800, 4)
    expect(trace.worstMm).toBeLessThan(1e-6)
  })

  it('a compound curve becomes two corners', () => {
    // 400 mm radius for 45 degrees, then 900 mm: two corners whose tangents meet between them without a straight.
    const first = pathArc({ x: 0, y: 0, headingRad: 0 }, 400, (400 * Math.PI) / 4)
    const second = pathArc(first.end, 900, (900 * Math.PI) / 4)
    const straight = { x: -500, y: 0 }
    const points = [
      ...Array.from({ length: 10 }, (_, i) => ({ x: straight.x + 50 * i, y: 0 })),
      ...Array.from({ length: 24 }, (_, i) => pathPoseAt(first, (first.lengthMm * i) / 24)),
      ...Array.from({ length: 40 }, (_, i) => pathPoseAt(second, (second.lengthMm * i) / 39)),
    ]
    const trace = traced(points, { toleranceMm: 0.5 })
    expect(trace.isWithin).toBe(true)
    expect(trace.traverse.corners.length).toBeGreaterThanOrEqual(2)
    const radii = trace.traverse.corners.map(({ radiusMm }) => Number(radiusMm)).toSorted((a, b) => a - b)
    expect(Math.abs((radii[0] ?? 0) - 400)).toBeLessThan(25)
    expect(Math.abs((radii.at(-1) ?? 0) - 900)).toBeLessThan(60)
  })

  it('the same point twice counts once, and both are told of', () => {
    const path = solvedPath(aTraverse([0, 0], [[1000, 0, 500, 0, 0]], [1000, 1000]))
    const { points } = surveyed(path, 50, 0, 0, 1)
    const twice = points.flatMap((point, i) => (i % 10 === 3 ? [point, point, point] : [point]))
    const trace = traced(twice)
    expect(trace.residuals.map(({ index }) => index)).toEqual([...twice.keys()])
    expect(trace.worstMm).toBeLessThan(1e-6)
  })

  it('gross errors are flagged, each and no other, and do not pull', () => {
    const path = solvedPath(
      aTraverse(
        [0, 0],
        [
          [900, 0, 450, 120, 120],
          [1500, 800, 500, 100, 100],
        ],
        [2600, 800],
      ),
    )
    const { points, gross } = surveyed(path, 140, 0.2, 20, 7)
    const trace = traced(points)
    expect(trace.outliers).toEqual(gross)
    expect(trace.isWithin).toBe(true)
    // Three standard errors of a point: the line itself is known better than its points.
    expect(pathApart(path, trace.path)).toBeLessThan(0.6)
  })

  it('ten thousand points are an answer, not a wait', () => {
    const path = solvedPath(
      aTraverse(
        [0, 0],
        [
          [2000, 0, 700, 200, 200],
          [3200, 1500, 800, 200, 200],
          [6000, 1500, 900, 0, 0],
        ],
        [7000, 3500],
      ),
    )
    const trace = traced(surveyed(path, 10_000, 0.25, 20, 3).points)
    expect(trace.rmsMm).toBeGreaterThan(0.2)
    expect(trace.rmsMm).toBeLessThan(0.3)
    // Ten thousand points of 0.25 mm: the line is known to a few hundredths, but for whether a weak easement is there at all.
    expect(pathApart(path, trace.path)).toBeLessThan(0.25)
    expect(trace.outliers.length).toBeGreaterThanOrEqual(500)
  })

  it('a tolerance that the points do not keep is said not to be kept', () => {
    const path = solvedPath(aTraverse([0, 0], [[1000, 0, 500, 0, 0]], [1000, 1000]))
    const trace = traced(surveyed(path, 80, 0.5, 0, 5).points, { toleranceMm: 0.2 })
    expect(trace.isWithin).toBe(false)
    expect(trace.worstMm).toBeGreaterThan(0.2)
  })
})

describe('what a person knows better about a point', () => {
  const path = solvedPath(aTraverse([0, 0], [[1000, 0, 500, 0, 0]], [1000, 1000]))
  const { points } = surveyed(path, 60, 0, 0, 1)
  // 6 mm off a line that the others lie on to rounding: more than twice the tolerance.
  const spoilt = points.map((point, i) => (i === 12 ? { x: point.x, y: point.y + 6 } : point))

  it('a gross error does not pull; told to count, it does', () => {
    const alone = traced(spoilt)
    expect(alone.outliers).toEqual([12])
    expect(alone.residuals[12]?.offsetMm).toBeCloseTo(6, 6)
    expect(alone.worstMm).toBeLessThan(1e-6)
    const held = traced(spoilt, { verdicts: new Map([[12, 'counts']]) })
    expect(held.outliers).toEqual([])
    expect(Math.abs(held.residuals[12]?.offsetMm ?? 6)).toBeLessThan(5.9)
    expect(held.worstMm).toBeGreaterThan(1)
  })

  it('a point left out is not looked at, and keeps its number and its offset', () => {
    const trace = traced(spoilt, { toleranceMm: 10, verdicts: new Map([[12, 'leftOut']]) })
    expect(trace.outliers).toEqual([])
    expect(trace.residuals).toHaveLength(60)
    expect(trace.residuals[12]?.offsetMm).toBeCloseTo(6, 6)
    expect(trace.worstMm).toBeLessThan(1e-6)
  })

  it('too few are left', () => {
    const verdicts = new Map(points.slice(2).map((_, i) => [i + 2, 'leftOut'] as const))
    expect(problemOf(points, { verdicts })).toEqual({ kind: 'tooFewPoints', have: 2, need: 3 })
  })
})

describe('points that are no line', () => {
  const line = [0, 1, 2, 3].map((i) => ({ x: 100 * i, y: 0 }))

  it('too few, or the same one over and over', () => {
    expect(problemOf([])).toEqual({ kind: 'tooFewPoints', have: 0, need: 3 })
    expect(problemOf(line.slice(0, 2))).toEqual({ kind: 'tooFewPoints', have: 2, need: 3 })
    expect(problemOf(Array.from({ length: 9 }, () => ({ x: 5, y: 5 })))).toEqual({ kind: 'tooFewPoints', have: 1, need: 3 })
  })

  it('numbers that are none: which point', () => {
    expect(problemOf([...line, { x: Number.NaN, y: 0 }, ...line])).toEqual({ kind: 'notFinite', index: 4 })
    expect(problemOf([{ x: 0, y: Infinity }, ...line])).toEqual({ kind: 'notFinite', index: 0 })
  })

  it('too many', () => {
    expect(problemOf(Array.from({ length: 10_001 }, (_, i) => ({ x: i, y: 0 })))).toEqual({
      kind: 'tooManyPoints',
      have: 10_001,
      most: 10_000,
    })
  })

  it('a tolerance that is none', () => {
    for (const toleranceMm of [0, -1, Number.NaN, Infinity])
      expect(problemOf(line, { toleranceMm })).toEqual({ kind: 'toleranceNotPositive', toleranceMm })
  })

  it('points in no order: where they first turn back', () => {
    const path = solvedPath(aTraverse([0, 0], [[1000, 0, 500, 0, 0]], [1000, 1000]))
    const { points } = surveyed(path, 60, 0, 0, 1)
    // Every point swapped with one far along: 7 and 60 have no common divisor.
    const mixed = points.map((_, i) => points[(i * 7) % 60] ?? { x: 0, y: 0 })
    expect(problemOf(mixed)).toMatchObject({ kind: 'unordered' })
  })

  it('a closed line that goes out and back the same way', () => {
    expect(problemOf(line, { isClosed: true })).toMatchObject({ kind: 'unordered' })
  })
})
