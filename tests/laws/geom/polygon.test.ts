import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  pointDistance,
  pointLerp,
  pointRotate,
  polygonContains,
  polygonEdgeDistance,
  polylineNearest,
  ringArea,
  ringContains,
  ringNearest,
  ringSelfIntersections,
  segmentIntersection,
  type Point,
} from '../../../src/core/geom/index.ts'
import { lawRuns } from '../../support/geomArbitraries.ts'

const coordinate = fc.double({ min: -3000, max: 3000, noNaN: true })
const point: fc.Arbitrary<Point> = fc.record({ x: coordinate, y: coordinate })

/** A ring that cannot cross itself: corners by rising angle about its middle. */
const starRing: fc.Arbitrary<readonly Point[]> = fc
  .array(fc.double({ min: 200, max: 2000, noNaN: true }), { minLength: 3, maxLength: 12 })
  .map((radii) => radii.map((radius, i) => pointRotate({ x: radius, y: 0 }, (2 * Math.PI * i) / radii.length)))

/** Slow oracle: times the ring winds about the point, by the sum of the angles under which its edges are seen. */
function windingNumber(ring: readonly Point[], p: Point): number {
  let angle = 0
  ring.forEach((a, i) => {
    const b = ring[(i + 1) % ring.length] ?? a
    angle += Math.atan2((a.x - p.x) * (b.y - p.y) - (a.y - p.y) * (b.x - p.x), (a.x - p.x) * (b.x - p.x) + (a.y - p.y) * (b.y - p.y))
  })
  return Math.round(angle / (2 * Math.PI))
}

describe('rings', () => {
  it('contain the points that they wind about', () => {
    fc.assert(
      fc.property(starRing, point, (ring, p) => {
        if ((ringNearest(ring, p)?.distanceMm ?? 0) < 1e-6) return
        expect(ringContains(ring, p)).toBe(windingNumber(ring, p) % 2 !== 0)
      }),
      lawRuns,
    )
  })

  it('have the area of their triangles, positive anticlockwise', () => {
    fc.assert(
      fc.property(starRing, point, (ring, shift) => {
        let area = 0
        ring.forEach((a, i) => {
          const b = ring[(i + 1) % ring.length] ?? a
          area += 0.5 * pointDistance(a, { x: 0, y: 0 }) * pointDistance(b, { x: 0, y: 0 }) * Math.sin((2 * Math.PI) / ring.length)
        })
        const moved = ring.map((p) => ({ x: p.x + 1e6 + shift.x, y: p.y - 1e6 + shift.y }))
        expect(ringArea(ring) / area).toBeCloseTo(1, 9)
        // A kilometre away the corners are rounded to 1e-10 mm, the area to that times the girth.
        expect(Math.abs(ringArea(moved) - area)).toBeLessThanOrEqual(1e-4)
        expect(ringArea(ring.toReversed())).toBeCloseTo(-ringArea(ring), 3)
      }),
      lawRuns,
    )
  })

  it('drawn by rising angle do not meet themselves; a bow tie does', () => {
    fc.assert(
      fc.property(starRing, (ring) => {
        expect(ringSelfIntersections(ring)).toEqual([])
      }),
      lawRuns,
    )
    // A bow tie meets itself in its middle.
    const bowTie = [
      { x: 0, y: 0 },
      { x: 100, y: 100 },
      { x: 100, y: 0 },
      { x: 0, y: 100 },
    ]
    expect(ringSelfIntersections(bowTie)).toEqual([{ edgeA: 0, edgeB: 2, at: { x: 50, y: 50 } }])
  })

  it('name a corner that folds back and a corner that lies on another edge, and forgive a doubled one', () => {
    const square = [
      { x: 0, y: 0 },
      { x: 100, y: 0 },
      { x: 100, y: 100 },
      { x: 0, y: 100 },
    ]
    expect(ringSelfIntersections([...square, { x: 0, y: 100 }])).toEqual([])
    const spur = [
      { x: 0, y: 0 },
      { x: 100, y: 0 },
      { x: 150, y: 0 },
      { x: 100, y: 0 },
      { x: 100, y: 100 },
    ]
    expect(ringSelfIntersections(spur).length).toBeGreaterThan(0)
    const touching = [
      { x: 0, y: 0 },
      { x: 100, y: 0 },
      { x: 100, y: 100 },
      { x: 50, y: 0 },
      { x: 0, y: 100 },
    ]
    expect(ringSelfIntersections(touching).length).toBeGreaterThan(0)
  })

  it('are nearest where no sample is nearer', () => {
    fc.assert(
      fc.property(starRing, point, (ring, p) => {
        const found = ringNearest(ring, p)
        if (!found) throw new Error('a ring with corners has a nearest place')
        expect(pointDistance(found.at, p)).toBeCloseTo(found.distanceMm, 9)
        let sampled = Infinity
        ring.forEach((a, i) => {
          const b = ring[(i + 1) % ring.length] ?? a
          for (let t = 0; t <= 1; t += 0.05) sampled = Math.min(sampled, pointDistance(pointLerp(a, b, t), p))
        })
        expect(sampled).toBeGreaterThanOrEqual(found.distanceMm - 1e-9)
        const open = polylineNearest(ring, p)
        expect(open?.distanceMm ?? 0).toBeGreaterThanOrEqual(found.distanceMm)
      }),
      { ...lawRuns, numRuns: 100 },
    )
  })
})

describe('polygons with holes', () => {
  const table = {
    outline: [
      { x: 0, y: 0 },
      { x: 1000, y: 0 },
      { x: 1000, y: 600 },
      { x: 0, y: 600 },
    ],
    holes: [
      [
        { x: 400, y: 200 },
        { x: 600, y: 200 },
        { x: 600, y: 400 },
        { x: 400, y: 400 },
      ],
    ],
  }

  it.each([
    ['on the wood, near the front', { x: 200, y: 50 }, 50, -1],
    ['on the wood, near the hole', { x: 390, y: 300 }, 10, 0],
    ['in the hole', { x: 430, y: 300 }, -30, 0],
    ['in the aisle', { x: 1300, y: 1000 }, -500, -1],
  ])('%s', (_, p, distanceMm, ring) => {
    const found = polygonEdgeDistance(table, p)
    expect(found?.distanceMm).toBeCloseTo(distanceMm, 9)
    expect(found?.ring).toBe(ring)
    expect(polygonContains(table, p)).toBe(distanceMm > 0)
  })

  it('without corners have no edge and contain nothing', () => {
    expect(polygonEdgeDistance({ outline: [], holes: [] }, { x: 0, y: 0 })).toBeNull()
    expect(polygonContains({ outline: [], holes: [] }, { x: 0, y: 0 })).toBe(false)
    expect(ringArea([])).toBe(0)
    expect(ringNearest([], { x: 0, y: 0 })).toBeNull()
    expect(polylineNearest([{ x: 0, y: 0 }], { x: 1, y: 0 })).toBeNull()
  })
})

describe('segments', () => {
  it('meet in a point that lies on both', () => {
    fc.assert(
      fc.property(point, point, point, point, (a, b, c, d) => {
        const found = segmentIntersection(a, b, c, d)
        if (!found) return
        expect(pointDistance(found.at, pointLerp(c, d, found.u))).toBeLessThanOrEqual(1e-6)
        expect(pointDistance(found.at, pointLerp(a, b, found.t))).toBeLessThanOrEqual(1e-9)
      }),
      lawRuns,
    )
  })

  it('in one line meet where they overlap', () => {
    const at = (x: number): Point => ({ x, y: 2 * x })
    expect(segmentIntersection(at(0), at(10), at(4), at(20))?.at).toEqual(at(4))
    expect(segmentIntersection(at(0), at(10), at(20), at(4))?.at).toEqual(at(4))
    expect(segmentIntersection(at(0), at(10), at(11), at(20))).toBeNull()
    expect(segmentIntersection(at(0), at(10), at(-5), at(0))?.t).toBe(0)
    expect(segmentIntersection(at(0), at(10), { x: 0, y: 1 }, { x: 10, y: 21 })).toBeNull()
  })
})
