import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { traceSolve, traverseSolve } from '../../../src/core/alignment/index.ts'
import { pathMove } from '../../../src/core/geom/index.ts'
import type { Path } from '../../../src/core/geom/index.ts'
import { aTraverse, noise, pathApart, surveyed } from '../../support/tracing.ts'
import type { CornerRow } from '../../support/tracing.ts'

const seed = 20261125

/** Lines of one to four curves of 300 to 900 mm with and without easements, tangents between them of 60 mm and more. */
const aLine = fc
  .record({
    legs: fc.array(fc.integer({ min: 700, max: 1500 }), { minLength: 5, maxLength: 5 }),
    turns: fc.array(
      fc.record({
        deg: fc.integer({ min: 25, max: 100 }),
        isLeft: fc.boolean(),
        radius: fc.integer({ min: 300, max: 900 }),
        into: fc.constantFrom(0, 0, 120, 180),
        out: fc.constantFrom(0, 0, 120, 180),
      }),
      { minLength: 1, maxLength: 4 },
    ),
  })
  .map(({ legs, turns }): Path | null => {
    let heading = 0
    let at = { x: 0, y: 0 }
    const ahead = (mm: number) => ({ x: at.x + mm * Math.cos(heading), y: at.y + mm * Math.sin(heading) })
    const rows: CornerRow[] = []
    for (const [i, { deg, isLeft, radius, into, out }] of turns.entries()) {
      at = ahead((legs[i] ?? 0) + 300)
      rows.push([at.x, at.y, radius, into, out])
      heading += ((isLeft ? 1 : -1) * deg * Math.PI) / 180
    }
    at = ahead((legs[4] ?? 0) + 300)
    const alignment = traverseSolve(aTraverse([0, 0], rows, [at.x, at.y]))
    if (!alignment.ok) return null
    const { elements } = alignment.path
    // Tangents that one can see, and no line that comes back over itself: there a point could belong to either part.
    const isClear = elements.every(({ k0, k1, lengthMm }) => k0 !== 0 || k1 !== 0 || lengthMm > 60)
    return isClear && Math.abs(heading) < 3.5 ? alignment.path : null
  })
  .filter((path) => path !== null)

describe('a line is found again from points on it', () => {
  it('exact points: to a millionth of a millimetre', () => {
    fc.assert(
      fc.property(aLine, (path) => {
        const answer = traceSolve(surveyed(path, 150, 0, 0, 1).points, { toleranceMm: 0.5, isClosed: false })
        if (!answer.ok) throw new Error(JSON.stringify(answer.problem))
        expect(answer.trace.outliers).toEqual([])
        expect(answer.trace.worstMm).toBeLessThan(1e-6)
        // Between points a line of the same kind through 150 of them has nowhere to go: a hundred times the offsets.
        expect(pathApart(path, answer.trace.path)).toBeLessThan(1e-4)
      }),
      { seed, numRuns: 15 },
    )
  })

  it('noisy points with gross errors: within a few standard errors, the gross ones flagged', () => {
    const sigmaMm = 0.25
    fc.assert(
      fc.property(aLine, fc.integer({ min: 1, max: 1_000_000 }), (path, luck) => {
        const { points, gross } = surveyed(path, 240, sigmaMm, 20, luck)
        const answer = traceSolve(points, { toleranceMm: 1, isClosed: false })
        if (!answer.ok) throw new Error(JSON.stringify(answer.problem))
        const { outliers, rmsMm, path: found } = answer.trace
        for (const index of gross) expect(outliers).toContain(index)
        // Five standard errors happen once in two million; what is flagged besides is next to nothing.
        expect(outliers.length - gross.length).toBeLessThanOrEqual(1)
        expect(rmsMm).toBeGreaterThan(0.75 * sigmaMm)
        expect(rmsMm).toBeLessThan(1.3 * sigmaMm)
        // At the ends of curves the line is known worst; four standard errors of one point.
        expect(pathApart(path, found)).toBeLessThan(4 * sigmaMm)
      }),
      { seed, numRuns: 15 },
    )
  })

  it('turned and moved points give the turned and moved line', () => {
    fc.assert(
      fc.property(aLine, fc.double({ min: -3, max: 3, noNaN: true }), (path, headingRad) => {
        const moved = pathMove(path, { x: 312, y: -87, headingRad })
        const [here, there] = [path, moved].map((one) =>
          traceSolve(surveyed(one, 120, 0, 0, 1).points, { toleranceMm: 0.5, isClosed: false }),
        )
        if (here?.ok !== true || there?.ok !== true) throw new Error('a line of this kind must be found')
        expect(there.trace.traverse.corners.length).toBe(here.trace.traverse.corners.length)
        expect(pathApart(moved, there.trace.path)).toBeLessThan(1e-4)
      }),
      { seed, numRuns: 8 },
    )
  })
})

describe('points that lie on no line of tangents, arcs and easements', () => {
  const along = (count: number, at: (share: number) => { readonly x: number; readonly y: number }, sigmaMm: number, luck: number) => {
    const deviate = noise(luck)
    return Array.from({ length: count }, (_, i) => {
      const { x, y } = at(i / (count - 1))
      return { x: x + sigmaMm * deviate(), y: y + sigmaMm * deviate() }
    })
  }
  const sine = (amplitudeMm: number, periodMm: number, lengthMm: number) => (share: number) => ({
    x: share * lengthMm,
    y: amplitudeMm * Math.sin((2 * Math.PI * share * lengthMm) / periodMm),
  })
  const solved = (points: readonly { readonly x: number; readonly y: number }[], toleranceMm: number, isClosed = false) => {
    const answer = traceSolve(points, { toleranceMm, isClosed })
    if (!answer.ok) throw new Error(JSON.stringify(answer.problem))
    return answer.trace
  }

  it.each([
    ['a wave', sine(200, 2000, 4000), 200, 0.3, 1.5, false],
    ['a wave of four periods that scatters widely', sine(100, 1500, 6000), 200, 2, 9, false],
    ['a spiral that never has one radius', (share: number) => spiral(0.5 + 4 * share), 120, 0, 1, false],
    ['an oval', (share: number) => ({ x: 900 * Math.cos(6.2 * share), y: 630 * Math.sin(6.2 * share) }), 150, 0.2, 1, true],
  ] as const)('%s has as many pieces as it takes to keep the tolerance', (_, at, count, sigmaMm, toleranceMm, isClosed) => {
    const trace = solved(along(count, at, sigmaMm, 7), toleranceMm, isClosed)
    expect(trace.isWithin).toBe(true)
    expect(trace.outliers).toEqual([])
    // No more than the noise and the tolerance together: a line that was only allowed to be that far off.
    expect(trace.rmsMm).toBeLessThan(1.2 * Math.hypot(sigmaMm, toleranceMm / 2))
  })

  it('where they scatter by more than the tolerance the line goes through their middle, and the scatter is told', () => {
    const sigmaMm = 3
    const trace = solved(along(200, sine(100, 1600, 3200), sigmaMm, 11), 1)
    expect(trace.isWithin).toBe(false)
    expect(trace.noiseMm).toBeGreaterThan(0.75 * sigmaMm)
    expect(trace.noiseMm).toBeLessThan(1.3 * sigmaMm)
    expect(trace.rmsMm).toBeLessThan(1.2 * sigmaMm)
  })
})

/** An Archimedean spiral of 300 mm a radian. */
const spiral = (turnRad: number) => ({ x: 300 * turnRad * Math.cos(turnRad), y: 300 * turnRad * Math.sin(turnRad) })

describe('whatever the points', () => {
  it('there is an answer or a reason, all numbers of it finite', () => {
    const coordinate = fc.oneof(fc.integer({ min: -3000, max: 3000 }), fc.double())
    fc.assert(
      fc.property(fc.array(fc.record({ x: coordinate, y: coordinate }), { maxLength: 40 }), fc.boolean(), (points, isClosed) => {
        const answer = traceSolve(points, { toleranceMm: 1, isClosed })
        if (!answer.ok) return
        const { residuals, rmsMm, worstMm, path } = answer.trace
        for (const value of [rmsMm, worstMm, path.lengthMm, ...residuals.flatMap(({ stationMm, offsetMm }) => [stationMm, offsetMm])])
          expect(Number.isFinite(value)).toBe(true)
        expect(residuals).toHaveLength(points.length)
      }),
      { seed, numRuns: 120 },
    )
  })
})
