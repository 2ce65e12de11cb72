import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  angleWrap,
  elementCurvatureAt,
  InvariantError,
  pathFlatten,
  pathOffsetPoint,
  pathPoseAt,
  pathStations,
  pathToCubics,
  pointDistance,
  pointLerp,
  segmentNearest,
  type CubicPath,
  type Path,
  type Point,
} from '../../../src/core/geom/index.ts'
import { lawRuns, path, share } from '../../support/geomArbitraries.ts'

const offset = fc.constantFrom(0, 8.25, -8.25, 60, -150)
const tolerance = fc.constantFrom(0.5, 0.02, 0.001)

/** Ends of a stretch of a path from two shares. */
function stretchOf(path: Path, a: number, b: number): readonly [number, number] {
  const [from, to] = [a * path.lengthMm, b * path.lengthMm].toSorted((p, q) => p - q) as [number, number]
  return [from, to]
}

interface Cubic {
  readonly from: Point
  readonly c1: Point
  readonly c2: Point
  readonly to: Point
}

function cubicsOf({ start, segments }: CubicPath): Cubic[] {
  let from = start
  return segments.map(({ c1, c2, to }) => {
    const cubic = { from, c1, c2, to }
    from = to
    return cubic
  })
}

/** Point of a cubic by de Casteljau's construction: nothing of the code under test. */
function cubicPoint({ from, c1, c2, to }: Cubic, t: number): Point {
  const a = pointLerp(pointLerp(from, c1, t), pointLerp(c1, c2, t), t)
  const b = pointLerp(pointLerp(c1, c2, t), pointLerp(c2, to, t), t)
  return pointLerp(a, b, t)
}

/** Distance from a point to one cubic: the best of samples, then thirds of the stretch round it. */
function distanceToCubic(cubic: Cubic, p: Point): number {
  const samples = 16
  const distances = Array.from({ length: samples + 1 }, (_, i) => pointDistance(cubicPoint(cubic, i / samples), p))
  const best = distances.indexOf(Math.min(...distances)) / samples
  let low = Math.max(0, best - 1 / samples)
  let high = Math.min(1, best + 1 / samples)
  for (let i = 0; i < 40; i++) {
    const third = (high - low) / 3
    if (pointDistance(cubicPoint(cubic, low + third), p) < pointDistance(cubicPoint(cubic, high - third), p)) high -= third
    else low += third
  }
  return pointDistance(cubicPoint(cubic, 0.5 * (low + high)), p)
}

function distanceToCubics(cubics: readonly Cubic[], p: Point): number {
  // A cubic lies within the hull of its four points, so one whose points are all far off need not be searched.
  const reach = cubics.map(({ from, c1, c2, to }) => {
    const size = pointDistance(from, c1) + pointDistance(c1, c2) + pointDistance(c2, to)
    return { least: pointDistance(from, p) - size, most: pointDistance(from, p) }
  })
  const bound = Math.min(...reach.map(({ most }) => most))
  return Math.min(...cubics.filter((_, i) => (reach[i]?.least ?? 0) <= bound).map((cubic) => distanceToCubic(cubic, p)))
}

function distanceToPolyline(points: readonly Point[], p: Point): number {
  let least = Infinity
  points.forEach((a, i) => {
    const b = points[i + 1]
    if (b) least = Math.min(least, segmentNearest(a, b, p).distanceMm)
  })
  return least
}

describe('a path drawn in straight chords', () => {
  it('keeps the tolerance between its points, also at an offset', () => {
    fc.assert(
      fc.property(path, share, share, offset, tolerance, (path, a, b, offsetMm, toleranceMm) => {
        const [fromMm, toMm] = stretchOf(path, a, b)
        const stations = pathStations(path, fromMm, toMm, offsetMm, toleranceMm)
        const points = pathFlatten(path, { fromMm, toMm, offsetMm, toleranceMm })
        expect(points.length).toBe(stations.length)
        expect(stations[0]).toBe(fromMm)
        expect(stations.at(-1)).toBeCloseTo(toMm, 9)
        for (let i = 1; i < stations.length; i += Math.ceil(stations.length / 60)) {
          const [s0, s1, p0, p1] = [stations[i - 1], stations[i], points[i - 1], points[i]]
          if (s0 === undefined || s1 === undefined || !p0 || !p1) throw new Error('the lists are as long as each other')
          expect(s1).toBeGreaterThanOrEqual(s0)
          for (const t of [0.25, 0.5, 0.75]) {
            const exact = pathOffsetPoint(path, s0 + t * (s1 - s0), offsetMm)
            expect(segmentNearest(p0, p1, exact).distanceMm).toBeLessThanOrEqual(toleranceMm + 1e-9)
          }
        }
      }),
      lawRuns,
    )
  })

  it('spends no more points than an arc needs', () => {
    // Sagitta of a chord u on radius R is u^2 / (8 R): 0.02 mm on 600 mm allows 9.8 mm, so 1000 mm take 103 chords.
    const path = { fromMm: 0, toMm: 1000, offsetMm: 0, toleranceMm: 0.02 }
    const arc = pathFlatten(pathOf(1000, 1 / 600, 1 / 600), path)
    expect(arc.length).toBe(104)
    expect(pathFlatten(pathOf(1000, 0, 0), path).length).toBe(2)
  })

  it('refuses a tolerance of nothing', () => {
    expect(() => pathStations(pathOf(100, 0, 0), 0, 100, 0, 0)).toThrow(InvariantError)
  })
})

function pathOf(lengthMm: number, k0: number, k1: number): Path {
  const start = { x: 0, y: 0, headingRad: 0 }
  return {
    elements: [{ lengthMm, k0, k1, startStationMm: 0, start }],
    lengthMm,
    end: { x: Number.NaN, y: Number.NaN, headingRad: Number.NaN },
  }
}

describe('a path drawn in cubic curves', () => {
  it('keeps the tolerance everywhere, starts and ends on the line and has no kink', () => {
    fc.assert(
      fc.property(path, share, share, offset, tolerance, (path, a, b, offsetMm, toleranceMm) => {
        const [fromMm, toMm] = stretchOf(path, a, b)
        // Beyond the centre of curvature an offset line has cusps; those are in a test of their own.
        const curvatures = path.elements.flatMap((element) => [
          elementCurvatureAt(element, 0),
          elementCurvatureAt(element, element.lengthMm),
        ])
        if (curvatures.some((k) => 1 - k * offsetMm < 0.1)) return
        const drawn = pathToCubics(path, { fromMm, toMm, offsetMm, toleranceMm })
        expect(pointDistance(drawn.start, pathOffsetPoint(path, fromMm, offsetMm))).toBeLessThanOrEqual(1e-9)
        expect(pointDistance(drawn.segments.at(-1)?.to ?? drawn.start, pathOffsetPoint(path, toMm, offsetMm))).toBeLessThanOrEqual(1e-9)
        drawn.segments.forEach(({ c2, to }, i) => {
          const next = drawn.segments[i + 1]
          if (!next || pointDistance(c2, to) < 1e-6 || pointDistance(to, next.c1) < 1e-6) return
          const turn = Math.atan2(next.c1.y - to.y, next.c1.x - to.x) - Math.atan2(to.y - c2.y, to.x - c2.x)
          expect(Math.abs(angleWrap(turn))).toBeLessThanOrEqual(1e-6)
        })
        if (toMm - fromMm < 1) return
        // Both ways: exact points near the drawing, and drawn points near a fine chord line of the exact one.
        const cubics = cubicsOf(drawn)
        const fine = pathFlatten(path, { fromMm, toMm, offsetMm, toleranceMm: toleranceMm / 20 })
        for (let i = 0; i <= 30; i++) {
          const exact = pathOffsetPoint(path, fromMm + ((toMm - fromMm) * i) / 30, offsetMm)
          // A twentieth more: between the dozen places of a segment that are checked the error may crest.
          expect(distanceToCubics(cubics, exact)).toBeLessThanOrEqual(1.05 * toleranceMm)
          const drawnCubic = cubics[Math.floor((i * cubics.length) / 31)]
          if (!drawnCubic) throw new Error('a stretch of a mm has a segment')
          expect(distanceToPolyline(fine, cubicPoint(drawnCubic, (i * 0.37) % 1))).toBeLessThanOrEqual(1.1 * toleranceMm)
        }
      }),
      { ...lawRuns, numRuns: 100 },
    )
  })

  it('needs few: an easement, a curve and an easement out within a thousandth of a mm', () => {
    const lengths = [300, 500, 300].map((lengthMm, i) => pathOf(lengthMm, i === 0 ? 0 : 1 / 600, i === 2 ? 0 : 1 / 600))
    const counts = lengths.map(
      (path) => pathToCubics(path, { fromMm: 0, toMm: path.lengthMm, offsetMm: 8, toleranceMm: 0.001 }).segments.length,
    )
    expect(Math.max(...counts)).toBeLessThanOrEqual(2)
  })

  it('holds the tolerance where an offset passes the centre of curvature and turns back', () => {
    const path = pathOf(400, 0, 1 / 200)
    const stretch = { fromMm: 0, toMm: 400, offsetMm: 300, toleranceMm: 0.01 }
    const cubics = cubicsOf(pathToCubics(path, stretch))
    const fine = pathFlatten(path, { ...stretch, toleranceMm: 0.001 })
    for (let i = 0; i <= 200; i++) expect(distanceToCubics(cubics, pathOffsetPoint(path, 2 * i, 300))).toBeLessThanOrEqual(0.011)
    for (const cubic of cubics) {
      for (let i = 0; i <= 10; i++) expect(distanceToPolyline(fine, cubicPoint(cubic, i / 10))).toBeLessThanOrEqual(0.012)
    }
    // The cusp lies where the radius is 300 mm: two thirds along.
    expect(pathPoseAt(path, 800 / 3).curvature).toBeCloseTo(1 / 300, 12)
  })
})
