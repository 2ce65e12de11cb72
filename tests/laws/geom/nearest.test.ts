import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  pathArc,
  pathElementAt,
  pathFromElements,
  pathNearest,
  pathNearestWithin,
  pathOffsetPoint,
  pathPoseAt,
  pathSlice,
  pointDistance,
  type Path,
  type Point,
} from '../../../src/core/geom/index.ts'
import { lawRuns, path, placeOnPath, share } from '../../support/geomArbitraries.ts'

/** Slow oracle: the nearest of many samples. It errs towards farther by at most half a step. */
function sampledDistance(path: Path, p: Point, count: number): number {
  let least = Infinity
  for (let i = 0; i <= count; i++) least = Math.min(least, pointDistance(pathPoseAt(path, (path.lengthMm * i) / count), p))
  return least
}

/** A path that never turns as far as half a turn, so that no other part of it can be nearer than the one an offset starts from. */
const gentle = fc
  .array(
    fc.record({
      lengthMm: fc.double({ min: 20, max: 150, noNaN: true }),
      k0: fc.double({ min: -1 / 250, max: 1 / 250, noNaN: true }),
      k1: fc.double({ min: -1 / 250, max: 1 / 250, noNaN: true }),
    }),
    { minLength: 1, maxLength: 4 },
  )
  .map((elements) => pathFromElements({ x: 100, y: -50, headingRad: 0.3 }, elements))

describe('the nearest place of a path', () => {
  it('of a point on the path is that place', () => {
    fc.assert(
      fc.property(placeOnPath, ({ path, stationMm }) => {
        const found = pathNearest(path, pathPoseAt(path, stationMm))
        expect(found.distanceMm).toBeLessThanOrEqual(1e-9)
        // A path may cross itself: then the lower station of that place is right as well.
        expect(pointDistance(found, pathPoseAt(path, stationMm))).toBeLessThanOrEqual(1e-9)
      }),
      lawRuns,
    )
  })

  it('leads from a station to an offset and back within a millionth of a mm', () => {
    // Up to two mm short of the smallest radius.
    const offsets = fc.double({ min: -248, max: 248, noNaN: true })
    let led = 0
    fc.assert(
      fc.property(gentle, share, offsets, (path, share, offsetMm) => {
        const stationMm = share * path.lengthMm
        const at = pathElementAt(path, stationMm)
        if (!at) return
        const point = pathOffsetPoint(path, stationMm, offsetMm)
        const found = pathNearest(path, point)
        expect(found.distanceMm).toBeLessThanOrEqual(Math.abs(offsetMm) + 1e-9)
        // Another place may be truly nearer. If not, the station must be the one we started from.
        if (found.distanceMm < Math.abs(offsetMm) - 1e-9) return
        expect(Math.abs(found.stationMm - stationMm)).toBeLessThanOrEqual(1e-6)
        expect(Math.abs(found.offsetMm - offsetMm)).toBeLessThanOrEqual(1e-6)
        led++
      }),
      { ...lawRuns, numRuns: 600 },
    )
    expect(led).toBeGreaterThan(400)
  })

  it('is never farther than any sample and never nearer than samples allow', () => {
    const points = fc.record({ x: fc.double({ min: -6000, max: 6000, noNaN: true }), y: fc.double({ min: -6000, max: 6000, noNaN: true }) })
    fc.assert(
      fc.property(path, points, (path, point) => {
        const found = pathNearest(path, point)
        const sampled = sampledDistance(path, point, 800)
        expect(found.distanceMm).toBeLessThanOrEqual(sampled + 1e-9)
        expect(found.distanceMm).toBeGreaterThanOrEqual(sampled - path.lengthMm / 1600 - 1e-9)
        expect(pointDistance(found, point)).toBeCloseTo(found.distanceMm, 9)
        expect(pointDistance(found, pathPoseAt(path, found.stationMm))).toBeLessThanOrEqual(1e-9)
        expect(Math.abs(found.offsetMm)).toBeLessThanOrEqual(found.distanceMm + 1e-9)
      }),
      lawRuns,
    )
  })

  it('is square to the path unless it is an end', () => {
    fc.assert(
      fc.property(path, fc.double({ min: -400, max: 400, noNaN: true }), share, (path, offsetMm, share) => {
        const point = pathOffsetPoint(path, share * path.lengthMm, offsetMm)
        const found = pathNearest(path, point)
        if (found.stationMm < 1e-6 || found.stationMm > path.lengthMm - 1e-6) return
        expect(Math.abs(Math.abs(found.offsetMm) - found.distanceMm)).toBeLessThanOrEqual(1e-6)
      }),
      lawRuns,
    )
  })

  it.each([-5e-324, 1e-300, -1e-15, 1e-12, -1e-9, 3e-9, 1e-8])(
    'of a line that bends by %s only is that of the straight, as far as the bend lets it',
    (k) => {
      const path = pathFromElements({ x: 10, y: -5, headingRad: 0 }, [{ lengthMm: 400, k0: k, k1: k }])
      for (const [x, y] of [
        [11.4714579700062, 3],
        [150, -90],
        [399, 20],
      ] as const) {
        const place = pathNearest(path, { x, y })
        // On an arc so slight the place moves by k times offset and way: far below 1e-6 mm but for the last few.
        expect(Math.abs(place.stationMm - (x - 10))).toBeLessThan(1e-9 + Math.abs(k) * 400 * (Math.abs(y + 5) + 400))
      }
    },
  )

  it('of a stretch is the nearest of that stretch', () => {
    fc.assert(
      fc.property(placeOnPath, share, share, ({ path, stationMm }, a, b) => {
        const [from, to] = [a * path.lengthMm, b * path.lengthMm].toSorted((p, q) => p - q) as [number, number]
        const point = pathOffsetPoint(path, stationMm, 120)
        const found = pathNearestWithin(path, point, from, to)
        expect(found.stationMm).toBeGreaterThanOrEqual(from - 1e-9)
        expect(found.stationMm).toBeLessThanOrEqual(to + 1e-9)
        const sampled = sampledDistance(pathSlice(path, from, to), point, 200)
        expect(found.distanceMm).toBeLessThanOrEqual(sampled + 1e-9)
        expect(pathNearest(path, point).distanceMm).toBeLessThanOrEqual(found.distanceMm + 1e-9)
      }),
      lawRuns,
    )
  })

  it('of the centre of an arc is its first station: all are equally near', () => {
    const arc = pathArc({ x: 0, y: 0, headingRad: 0 }, 500, 1200)
    const found = pathNearest(arc, { x: 0, y: 500 })
    expect(found.distanceMm).toBeCloseTo(500, 9)
    expect(found.stationMm).toBe(0)
  })

  it('is found quickly on the evolute and round the centre, where squares merge', () => {
    // Along the centres of curvature of an easement the distance is flat to the third order.
    const easement = pathFromElements({ x: 0, y: 0, headingRad: 0 }, [{ lengthMm: 600, k0: 1 / 900, k1: 1 / 250 }])
    for (let i = 1; i < 20; i++) {
      const s = 30 * i
      const { curvature } = pathPoseAt(easement, s)
      for (const slip of [0, 1e-9, -1e-9, 1e-3, -1e-3]) {
        const point = pathOffsetPoint(easement, s, 1 / curvature + slip)
        const found = pathNearest(easement, point)
        expect(found.distanceMm).toBeLessThanOrEqual(sampledDistance(easement, point, 2000) + 1e-9)
      }
    }
  })
})
