import Flatbush from 'flatbush'
import { pointDistance, ringContains, segmentIntersection, segmentNearest } from '../geom/index.ts'
import type { Point } from '../geom/types.ts'
import type { Id } from '../plan/types.ts'
import type { FixedShape, SweptTrack } from './types.ts'

/** What a car may come near: something that stands still, or what runs on a track. record null: all benchwork together. */
export interface HurdleName {
  readonly kind: FixedShape['kind'] | 'tracks'
  readonly record: Id | null
}

/** One straight side of a hurdle. */
interface HurdleSide {
  readonly name: HurdleName
  readonly a: Point
  readonly b: Point
}

/** All sides that a car may come near, found by place. */
export interface Hurdles {
  readonly sides: readonly HurdleSide[]
  readonly index: Flatbush | null
  readonly shapes: readonly FixedShape[]
}

/** Shapes that stand still, and the edges of bands that are swept on tracks. */
export function hurdlesOf(shapes: readonly FixedShape[], swept: readonly SweptTrack[]): Hurdles {
  const sides = [
    ...shapes.flatMap(({ kind, record, rings }) => {
      const name: HurdleName = { kind, record }
      return rings.flatMap((ring) => ring.map((a, i): HurdleSide => ({ name, a, b: ring[(i + 1) % ring.length] ?? a })))
    }),
    ...swept.flatMap(({ line: { track }, edges: { left, right } }) => {
      const name: HurdleName = { kind: 'tracks', record: track }
      return [left, right].flatMap((edge) => edge.slice(1).map((b, i): HurdleSide => ({ name, a: edge[i] ?? b, b })))
    }),
  ]
  if (sides.length === 0) return { sides, index: null, shapes }
  const index = new Flatbush(sides.length)
  for (const { a, b } of sides) index.add(Math.min(a.x, b.x), Math.min(a.y, b.y), Math.max(a.x, b.x), Math.max(a.y, b.y))
  index.finish()
  return { sides, index, shapes }
}

/** The shortest way from something to a hurdle; 0 where it stands in one. */
export interface HurdleGap {
  readonly gapMm: number
  readonly from: Point
  readonly to: Point
  readonly name: HurdleName
}

export interface HurdleOptions {
  /** Gaps wider than this are not looked for. */
  readonly withinMm: number
  /** Tracks that are left out: one's own, and those that meet it here. */
  readonly isPassed: (track: Id) => boolean
}

/**
 * The tightest gap round an outline that stands somewhere: a body of a car.
 *
 * Exactness:  distance of straight sides, to rounding; bands count as chords of their step.
 * Outcome:    null when nothing is within reach. Where the outline cuts or covers a side, or its middle lies on the wrong side of a
 *             shape, the gap is 0.
 */
export function hurdleGap(hurdles: Hurdles, outline: readonly Point[], { withinMm, isPassed }: HurdleOptions): HurdleGap | null {
  const middle = middleOf(outline)
  const inside = hurdles.shapes.find(({ rings, isRoom }) => {
    const within = rings.filter((ring) => ringContains(ring, middle)).length
    return isRoom ? within % 2 === 0 : within > 0
  })
  if (inside) return { gapMm: 0, from: middle, to: middle, name: { kind: inside.kind, record: inside.record } }
  const passes = passesKept(isPassed)
  let best: HurdleGap | null = null
  for (const side of sidesNear(hurdles, outline, withinMm)) {
    const mostMm = best?.gapMm ?? withinMm
    const here = nearestSide(outline, side)
    if (here.gapMm > mostMm || (best !== null && here.gapMm === mostMm) || passes(side.name)) continue
    // What stands wholly under the body cuts none of its sides.
    if (ringContains(outline, side.a)) return { gapMm: 0, from: side.a, to: side.a, name: side.name }
    best = segmentGap(here.from, here.to, side)
  }
  return best
}

/** Whether a hurdle is left out, asked once of each track. */
function passesKept(isPassed: HurdleOptions['isPassed']): (name: HurdleName) => boolean {
  const known = new Map<Id, boolean>()
  return ({ kind, record }) => {
    if (kind !== 'tracks' || record === null) return false
    const before = known.get(record)
    if (before !== undefined) return before
    const passed = isPassed(record)
    known.set(record, passed)
    return passed
  }
}

/** The side of an outline that is nearest to a hurdle's, and how near: numbers alone, for this is asked of hundreds while a hand drags. */
function nearestSide(
  outline: readonly Point[],
  { a, b }: HurdleSide,
): { readonly from: Point; readonly to: Point; readonly gapMm: number } {
  let [from, to] = [outline[0] ?? a, outline[0] ?? a]
  let least = Infinity
  let p = outline.at(-1) ?? a
  for (const q of outline) {
    const square = segmentsApart(p, q, a, b)
    if (square < least) [from, to, least] = [p, q, square]
    p = q
  }
  return { from, to, gapMm: Math.sqrt(least) }
}

/** Square of the distance of two segments. */
function segmentsApart(p: Point, q: Point, a: Point, b: Point): number {
  const turn = (o: Point, m: Point, n: Point): number => (m.x - o.x) * (n.y - o.y) - (m.y - o.y) * (n.x - o.x)
  if (turn(p, q, a) > 0 !== turn(p, q, b) > 0 && turn(a, b, p) > 0 !== turn(a, b, q) > 0) return 0
  return Math.min(pointApart(p, a, b), pointApart(q, a, b), pointApart(a, p, q), pointApart(b, p, q))
}

/** Square of the distance of a point from a segment. */
function pointApart({ x, y }: Point, a: Point, b: Point): number {
  const [dx, dy] = [b.x - a.x, b.y - a.y]
  const square = dx * dx + dy * dy
  const t = square === 0 ? 0 : Math.min(1, Math.max(0, ((x - a.x) * dx + (y - a.y) * dy) / square))
  const [ex, ey] = [x - a.x - t * dx, y - a.y - t * dy]
  return ex * ex + ey * ey
}

/** The nearest hurdle of a point that lies to a side of a line: `isThatSide` says of a place whether it does. */
export function hurdleNearest(
  hurdles: Hurdles,
  from: Point,
  { withinMm, isPassed }: HurdleOptions,
  isThatSide: (place: Point) => boolean,
): HurdleGap | null {
  const passes = passesKept(isPassed)
  let best: HurdleGap | null = null
  for (const { name, a, b } of sidesNear(hurdles, [from], withinMm)) {
    if (Math.sqrt(pointApart(from, a, b)) > (best?.gapMm ?? withinMm) || passes(name)) continue
    const { at, distanceMm } = segmentNearest(a, b, from)
    if (distanceMm <= withinMm && (best === null || distanceMm < best.gapMm) && isThatSide(at))
      best = { gapMm: distanceMm, from, to: at, name }
  }
  return best
}

function sidesNear({ sides, index }: Hurdles, points: readonly Point[], withinMm: number): readonly HurdleSide[] {
  if (index === null) return []
  const [xs, ys] = [points.map(({ x }) => x), points.map(({ y }) => y)]
  const found = index.search(Math.min(...xs) - withinMm, Math.min(...ys) - withinMm, Math.max(...xs) + withinMm, Math.max(...ys) + withinMm)
  return found.flatMap((i) => sides[i] ?? [])
}

/** Two segments are nearest at an end of one of them, unless they cross. */
function segmentGap(p: Point, q: Point, { name, a, b }: HurdleSide): HurdleGap {
  const crossing = segmentIntersection(p, q, a, b)
  if (crossing !== null) return { gapMm: 0, from: crossing.at, to: crossing.at, name }
  const ways = [
    { from: p, to: segmentNearest(a, b, p).at },
    { from: q, to: segmentNearest(a, b, q).at },
    { from: segmentNearest(p, q, a).at, to: a },
    { from: segmentNearest(p, q, b).at, to: b },
  ].map((way) => ({ ...way, gapMm: pointDistance(way.from, way.to), name }))
  return ways.reduce((best, way) => (way.gapMm < best.gapMm ? way : best))
}

function middleOf(points: readonly Point[]): Point {
  const count = Math.max(1, points.length)
  return { x: points.reduce((sum, { x }) => sum + x, 0) / count, y: points.reduce((sum, { y }) => sum + y, 0) / count }
}
