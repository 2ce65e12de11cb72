import { pointCross, pointDistance, pointDot, pointLerp, pointSubtract } from './point.ts'
import type { Point } from './types.ts'

/** A place on the edge from corner `edge` to the next one. */
export interface EdgePlace {
  readonly edge: number
  readonly at: Point
  readonly distanceMm: number
}

/** An outline with holes in it; rings closed by themselves, in either sense. */
export interface Polygon {
  readonly outline: readonly Point[]
  readonly holes: readonly (readonly Point[])[]
}

/** Edges of a ring, the last one closing it. */
function ringEdges(ring: readonly Point[]): (readonly [Point, Point])[] {
  return ring.flatMap((a, i) => {
    const b = ring[i + 1 === ring.length ? 0 : i + 1]
    return b ? [[a, b] as const] : []
  })
}

/** Signed area of a ring, mm^2: positive when it runs anticlockwise. Measured from its first corner, so that far rings lose no digits. */
export function ringArea(ring: readonly Point[]): number {
  const origin = ring[0]
  if (!origin) return 0
  let twice = 0
  for (const [a, b] of ringEdges(ring)) twice += pointCross(pointSubtract(a, origin), pointSubtract(b, origin))
  return 0.5 * twice
}

/** True when the point lies inside the ring (even-odd rule). A point on an edge may count either way: ask ringNearest. */
export function ringContains(ring: readonly Point[], p: Point): boolean {
  let isInside = false
  let a = ring.at(-1)
  for (const b of ring) {
    if (a !== undefined && a.y > p.y !== b.y > p.y) {
      const isLeft = (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x) > 0
      if (isLeft === b.y > a.y) isInside = !isInside
    }
    a = b
  }
  return isInside
}

/** Point of a segment nearest to p, and how far along it (0 to 1). */
export function segmentNearest(a: Point, b: Point, p: Point): { readonly at: Point; readonly t: number; readonly distanceMm: number } {
  const run = pointSubtract(b, a)
  const square = pointDot(run, run)
  const t = square === 0 ? 0 : Math.min(1, Math.max(0, pointDot(pointSubtract(p, a), run) / square))
  const at = pointLerp(a, b, t)
  return { at, t, distanceMm: pointDistance(at, p) }
}

/**
 * Where two segments meet: shares along each (0 to 1) and the point; null when they do not.
 * Segments in one line that overlap meet in the first shared point along the first.
 */
export function segmentIntersection(
  a: Point,
  b: Point,
  c: Point,
  d: Point,
): { readonly at: Point; readonly t: number; readonly u: number } | null {
  const ab = pointSubtract(b, a)
  const cd = pointSubtract(d, c)
  const ac = pointSubtract(c, a)
  const cross = pointCross(ab, cd)
  if (cross !== 0) {
    const t = pointCross(ac, cd) / cross
    const u = pointCross(ac, ab) / cross
    return t >= 0 && t <= 1 && u >= 0 && u <= 1 ? { at: pointLerp(a, b, t), t, u } : null
  }
  if (pointCross(ac, ab) !== 0 || pointCross(ac, cd) !== 0) return null
  const square = pointDot(ab, ab)
  if (square === 0) {
    const near = segmentNearest(c, d, a)
    return near.distanceMm === 0 ? { at: a, t: 0, u: near.t } : null
  }
  const tc = pointDot(ac, ab) / square
  const td = pointDot(pointSubtract(d, a), ab) / square
  const t = Math.max(0, Math.min(tc, td))
  if (t > Math.min(1, Math.max(tc, td))) return null
  return { at: pointLerp(a, b, t), t, u: tc === td ? 0 : (t - tc) / (td - tc) }
}

/**
 * Pairs of edges of a ring that meet other than at the corner they share.
 * Neighbours are named when they fold back on each other; an edge without length is passed over.
 */
export function ringSelfIntersections(ring: readonly Point[]): { readonly edgeA: number; readonly edgeB: number; readonly at: Point }[] {
  const edges = ringEdges(ring)
    .map(([a, b], edge) => ({ a, b, edge }))
    .filter(({ a, b }) => a.x !== b.x || a.y !== b.y)
  const found: { edgeA: number; edgeB: number; at: Point }[] = []
  edges.forEach((first, i) => {
    edges.slice(i + 1).forEach((second, j) => {
      const follows = j === 0
      const precedes = i === 0 && j === edges.length - 2
      if (follows || precedes) {
        const [before, after] = follows ? [first, second] : [second, first]
        const run = pointSubtract(before.b, before.a)
        const next = pointSubtract(after.b, after.a)
        if (pointCross(run, next) === 0 && pointDot(run, next) < 0) {
          found.push({ edgeA: first.edge, edgeB: second.edge, at: before.b })
          return
        }
        if (edges.length > 2) return
      }
      const meeting = segmentIntersection(first.a, first.b, second.a, second.b)
      if (meeting) found.push({ edgeA: first.edge, edgeB: second.edge, at: meeting.at })
    })
  })
  return found
}

/** Farther by more than this part of its square is farther whatever the rounding: most edges are told so without an exact length. */
const surelyFarther = 1 + 1e-9

/** Nearest of so many edges, from each corner to the next one, the first one following the last. */
function edgesNearest(corners: readonly Point[], edges: number, p: Point): EdgePlace | null {
  let best: EdgePlace | null = null
  let most = Infinity
  for (let edge = 0; edge < edges; edge++) {
    const a = corners[edge]
    const b = corners[edge + 1 === corners.length ? 0 : edge + 1]
    if (a === undefined || b === undefined) continue
    const dx = b.x - a.x
    const dy = b.y - a.y
    const px = p.x - a.x
    const py = p.y - a.y
    const square = dx * dx + dy * dy
    const t = square === 0 ? 0 : Math.min(1, Math.max(0, (px * dx + py * dy) / square))
    const away = (px - t * dx) ** 2 + (py - t * dy) ** 2
    if (away > most) continue
    const { at, distanceMm } = segmentNearest(a, b, p)
    if (best !== null && distanceMm >= best.distanceMm) continue
    best = { edge, at, distanceMm }
    most = distanceMm * distanceMm * surelyFarther
  }
  return best
}

/** Place of a ring nearest to a point; null for a ring without corners. */
export function ringNearest(ring: readonly Point[], p: Point): EdgePlace | null {
  return edgesNearest(ring, ring.length, p)
}

/** Place of an open polyline nearest to a point; null when it has fewer than two points. */
export function polylineNearest(points: readonly Point[], p: Point): EdgePlace | null {
  return edgesNearest(points, points.length - 1, p)
}

/** True when the point lies inside the outline and in none of the holes. */
export function polygonContains({ outline, holes }: Polygon, p: Point): boolean {
  return ringContains(outline, p) && !holes.some((hole) => ringContains(hole, p))
}

/**
 * Distance from a point to the nearest edge of a polygon, mm, positive inside and negative outside or in a hole,
 * with that place; ring -1 is the outline, 0.. a hole. Null for a polygon without corners.
 */
export function polygonEdgeDistance(
  polygon: Polygon,
  p: Point,
): { readonly distanceMm: number; readonly at: Point; readonly ring: number; readonly edge: number } | null {
  const places = [polygon.outline, ...polygon.holes].flatMap((ring, i) => {
    const place = ringNearest(ring, p)
    return place ? [{ ...place, ring: i - 1 }] : []
  })
  const first = places[0]
  if (!first) return null
  const nearest = places.reduce((best, place) => (place.distanceMm < best.distanceMm ? place : best), first)
  return { ...nearest, distanceMm: polygonContains(polygon, p) ? nearest.distanceMm : -nearest.distanceMm }
}
