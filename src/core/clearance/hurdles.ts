import Flatbush from 'flatbush'
import { pointDistance, ringContains, segmentIntersection, segmentNearest } from '../geom/index.ts'
import type { Point } from '../geom/types.ts'
import { isOnOtherLevel } from '../levels/index.ts'
import type { LineLevel } from '../levels/index.ts'
import type { Id } from '../plan/types.ts'
import { sweptAlong } from './swept.ts'
import type { FixedShape, SweptTrack } from './types.ts'

/** What a car may come near: something that stands still, or what runs on a track. record null: all benchwork together. */
export interface HurdleName {
  readonly kind: FixedShape['kind'] | 'tracks'
  readonly record: Id | null
}

/** Where on a track something is whose heights are known. */
export interface LevelPlace {
  readonly level: LineLevel
  readonly stationMm: number
}

/** One straight side of a hurdle. */
interface HurdleSide {
  readonly name: HurdleName
  /** null: on every level. */
  readonly place: LevelPlace | null
  readonly a: Point
  readonly b: Point
}

/** All sides that a car may come near, found by place. */
export interface Hurdles {
  readonly sides: readonly HurdleSide[]
  readonly index: Flatbush | null
  readonly shapes: readonly FixedShape[]
  /** How far along a track what is near in plan to another may lie (sweptAlong). */
  readonly alongMm: number
}

/** Shapes that stand still, and the edges of bands that are swept on tracks. limitMm: nearer than this is too near. */
export function hurdlesOf(shapes: readonly FixedShape[], swept: readonly SweptTrack[], limitMm: number): Hurdles {
  const sides = [
    ...shapes.flatMap(({ kind, record, rings }) => {
      const name: HurdleName = { kind, record }
      return rings.flatMap((ring) => ring.map((a, i): HurdleSide => ({ name, place: null, a, b: ring[(i + 1) % ring.length] ?? a })))
    }),
    ...swept.flatMap(({ line: { track, level, startMm }, band: { reaches }, edges: { left, right } }) => {
      const name: HurdleName = { kind: 'tracks', record: track }
      const placeAt = (i: number): LevelPlace | null => level && { level, stationMm: (reaches[i]?.stationMm ?? 0) - startMm }
      return [left, right].flatMap((edge) => edge.slice(1).map((b, i): HurdleSide => ({ name, place: placeAt(i), a: edge[i] ?? b, b })))
    }),
  ]
  const alongMm = sweptAlong(swept, limitMm)
  if (sides.length === 0) return { sides, index: null, shapes, alongMm }
  const index = new Flatbush(sides.length)
  for (const { a, b } of sides) index.add(Math.min(a.x, b.x), Math.min(a.y, b.y), Math.max(a.x, b.x), Math.max(a.y, b.y))
  index.finish()
  return { sides, index, shapes, alongMm }
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
  /** Where on its track it stands, if it is known how high that is: tracks far enough over or under it are left out. */
  readonly place: LevelPlace | null
}

/**
 * The tightest gap round an outline that stands somewhere: a body of a car.
 *
 * Exactness:  distance of straight sides, to rounding; bands count as chords of their step.
 * Outcome:    null when nothing is within reach. Where the outline cuts or covers a side, or its middle lies on the wrong side of a
 *             shape, the gap is 0.
 */
export function hurdleGap(hurdles: Hurdles, outline: readonly Point[], { withinMm, isPassed, place }: HurdleOptions): HurdleGap | null {
  const middle = middleOf(outline)
  const inside = hurdles.shapes.find(({ rings, isRoom }) => {
    const within = rings.filter((ring) => ringContains(ring, middle)).length
    return isRoom ? within % 2 === 0 : within > 0
  })
  if (inside) return { gapMm: 0, from: middle, to: middle, name: { kind: inside.kind, record: inside.record } }
  const passes = passesKept(hurdles, isPassed, place)
  let best: HurdleGap | null = null
  for (const side of sidesNear(hurdles, outline, withinMm)) {
    const mostMm = best?.gapMm ?? withinMm
    const here = nearestSide(outline, side)
    if (here.gapMm > mostMm || (best !== null && here.gapMm === mostMm) || passes(side)) continue
    // What stands wholly under the body cuts none of its sides.
    if (ringContains(outline, side.a)) return { gapMm: 0, from: side.a, to: side.a, name: side.name }
    best = segmentGap(here.from, here.to, side)
  }
  return best
}

/** Whether a side is left out; whether its track is, is asked once of each. */
function passesKept({ alongMm }: Hurdles, isPassed: HurdleOptions['isPassed'], at: LevelPlace | null): (side: HurdleSide) => boolean {
  const known = new Map<Id, boolean>()
  return ({ name: { kind, record }, place }) => {
    if (kind !== 'tracks' || record === null) return false
    if (at !== null && place !== null && isOnOtherLevel(at.level, at.stationMm, place.level, place.stationMm, alongMm)) return true
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
  { withinMm, isPassed, place }: HurdleOptions,
  isThatSide: (place: Point) => boolean,
): HurdleGap | null {
  const passes = passesKept(hurdles, isPassed, place)
  let best: HurdleGap | null = null
  for (const side of sidesNear(hurdles, [from], withinMm)) {
    const { name, a, b } = side
    if (Math.sqrt(pointApart(from, a, b)) > (best?.gapMm ?? withinMm) || passes(side)) continue
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
