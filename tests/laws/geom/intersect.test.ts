import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  angleBetween,
  pathArc,
  pathFlatten,
  pathFromElements,
  pathIntersections,
  pathLine,
  pathMove,
  pathOffsetPoint,
  pathPoseAt,
  pathSlice,
  pathStart,
  pointDistance,
  segmentIntersection,
  type Point,
} from '../../../src/core/geom/index.ts'
import { lawRuns, path, pose, share } from '../../support/geomArbitraries.ts'

const toleranceMm = 1e-6

describe('meetings of two paths', () => {
  it('lie on both', () => {
    fc.assert(
      fc.property(path, path, share, share, (a, b, s, t) => {
        // b is moved so that it crosses a somewhere.
        const here = pathPoseAt(a, s * a.lengthMm)
        const there = pathPoseAt(b, t * b.lengthMm)
        const moved = pathMove(b, { x: here.x - there.x, y: here.y - there.y, headingRad: 0 })
        const found = pathIntersections(a, moved, toleranceMm)
        for (const { stationA, stationB, at, angleRad } of found) {
          const onA = pathPoseAt(a, stationA)
          const onB = pathPoseAt(moved, stationB)
          expect(pointDistance(onA, onB)).toBeLessThanOrEqual(2 * toleranceMm)
          expect(pointDistance(onA, at)).toBeLessThanOrEqual(1e-9)
          expect(angleRad).toBeCloseTo(angleBetween(onA.headingRad, onB.headingRad), 9)
        }
        // The meeting that was made is among them, or within the length that joins meetings.
        const turn = Math.abs(Math.sin(there.headingRad - here.headingRad))
        if (turn < 0.01) return
        const isThere = found.some(({ stationA, stationB }) => Math.hypot(stationA - s * a.lengthMm, stationB - t * b.lengthMm) < 6)
        expect(isThere).toBe(true)
      }),
      { ...lawRuns, numRuns: 150 },
    )
  })

  it('are those of fine polylines', () => {
    fc.assert(
      fc.property(path, pose, fc.double({ min: 500, max: 4000, noNaN: true }), (a, start, lengthMm) => {
        const middle = pathPoseAt(a, a.lengthMm / 2)
        const line = pathFromElements({ x: middle.x + start.x / 20, y: middle.y + start.y / 20, headingRad: start.headingRad }, [
          { lengthMm, k0: 0, k1: 0 },
        ])
        const found = pathIntersections(a, line, toleranceMm)
        const points = pathFlatten(a, { fromMm: 0, toMm: a.lengthMm, offsetMm: 0, toleranceMm: 1e-4 })
        const crossings = points.flatMap((p, i) => {
          const q = points[i + 1]
          const first = line.elements[0]
          const meeting = q && first ? segmentIntersection(p, q, first.start, line.end) : null
          return q && meeting ? [{ at: meeting.at, slope: Math.sin(start.headingRad - Math.atan2(q.y - p.y, q.x - p.x)) }] : []
        })
        // Where they cross at a decent angle, both lists name the same places; a grazing pair may be one touch for the one, two for the other.
        // A line that ends right on the path meets it, while its chord a hair beside does not: ends are left out.
        const isEnd = (at: Point): boolean =>
          [line.elements[0]?.start, line.end, pathStart(a), a.end].some((end) => end && pointDistance(end, at) < 1)
        for (const { at: crossing, slope } of crossings) {
          if (isEnd(crossing) || Math.abs(slope) < 0.05) continue
          expect(Math.min(Infinity, ...found.map(({ at }) => pointDistance(at, crossing)))).toBeLessThanOrEqual(5)
        }
        for (const { at, angleRad } of found) {
          if (isEnd(at) || Math.abs(Math.sin(angleRad)) < 0.05) continue
          // 1e-4 mm of chord error at a slope of 1 in 20.
          expect(Math.min(Infinity, ...crossings.map((crossing) => pointDistance(at, crossing.at)))).toBeLessThanOrEqual(2e-3)
        }
      }),
      { ...lawRuns, numRuns: 150 },
    )
  })

  it('are the same the other way round', () => {
    fc.assert(
      fc.property(path, path, pose, (a, b, frame) => {
        const moved = pathMove(b, { ...frame, x: frame.x / 10, y: frame.y / 10 })
        const one = pathIntersections(a, moved, toleranceMm)
        const other = pathIntersections(moved, a, toleranceMm)
        const steep = one.filter(({ angleRad }) => Math.abs(Math.sin(angleRad)) > 0.05)
        for (const meeting of steep) {
          expect(
            other.some(({ stationA, stationB }) => Math.abs(stationA - meeting.stationB) + Math.abs(stationB - meeting.stationA) < 4.1),
          ).toBe(true)
        }
      }),
      { ...lawRuns, numRuns: 100 },
    )
  })
})

describe('meetings worked by hand', () => {
  it('line through a circle: the chord of a circle of radius 500 at 300 from its centre is 800 long', () => {
    const circle = pathArc({ x: 0, y: -500, headingRad: 0 }, 500, 2 * Math.PI * 500)
    const found = pathIntersections(circle, pathLine({ x: -900, y: 300 }, { x: 900, y: 300 }), toleranceMm)
    expect(found.map(({ at }) => Math.round(at.x * 1e6) / 1e6)).toEqual([400, -400])
    // Where cos = 300/500 the circle runs 53.13 degrees off the chord.
    expect(Math.cos(found[0]?.angleRad ?? 0)).toBeCloseTo(-0.6, 9)
    expect(found[0]?.stationA).toBeCloseTo(500 * (Math.PI / 2 + Math.asin(0.6)), 6)
    expect(found[0]?.stationB).toBeCloseTo(1300, 6)
  })

  it('a tangent touches once; a line a hair away does not', () => {
    const circle = pathArc({ x: 0, y: 0, headingRad: 0 }, 500, 700)
    expect(pathIntersections(circle, pathLine({ x: -100, y: 0 }, { x: 100, y: 0 }), 1e-3)).toHaveLength(1)
    expect(pathIntersections(circle, pathLine({ x: -100, y: -0.01 }, { x: 100, y: -0.01 }), 1e-3)).toHaveLength(0)
  })

  it('paths that run together for a stretch meet once, at its start', () => {
    const whole = pathFromElements({ x: 0, y: 0, headingRad: 0 }, [
      { lengthMm: 300, k0: 0, k1: 1 / 600 },
      { lengthMm: 500, k0: 1 / 600, k1: 1 / 600 },
    ])
    const found = pathIntersections(whole, pathSlice(whole, 200, 650), 1e-3)
    expect(found).toHaveLength(1)
    expect(Math.abs((found[0]?.stationA ?? 0) - 200)).toBeLessThanOrEqual(4)
    expect((found[0]?.stationA ?? 0) - (found[0]?.stationB ?? 0)).toBeCloseTo(200, 2)
  })

  it('parallel tracks never meet', () => {
    const track = pathArc({ x: 0, y: 0, headingRad: 0 }, 800, 900)
    const start = pathOffsetPoint(track, 0, 50)
    expect(pathIntersections(track, pathArc({ ...start, headingRad: 0 }, 750, 840), 1e-3)).toEqual([])
  })
})
