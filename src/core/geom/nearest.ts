import { poseSlot } from './clothoid.ts'
import { elementCurvatureAt, elementPoseInto } from './element.ts'
import { pathSpans } from './spans.ts'
import { pathPoseInto, pathStart, pathStationHeld } from './path.ts'
import { invariant } from './invariant.ts'
import type { NearestStation, Path, PathElement, Point, Pose } from './types.ts'

/*
 * The nearest place of a path to a point P. With z(s) the path, T its tangent, N its left normal and k its curvature,
 *   along  g(s) = (z - P) . T      zero where P lies square to the path,
 *   across n(s) = (P - z) . N      the offset of P,
 *   g' = 1 - k n                   positive where the distance has a minimum.
 * A span is dropped when it cannot hold anything nearer, halved while it might hold several squares, and solved
 * by safeguarded Newton steps once g is seen to be monotonic on it. So the result is the nearest of all, not of some samples.
 */

/** Spans shorter than this are not divided further, mm: their whole length is within the accuracy promised. */
const shortestSpanMm = 1e-7

/** A nearer place must be nearer by more than this, mm; else the lower station stays. Rounding of a distance in a room of 100 m. */
const distanceRoundingMm = 1e-11

/**
 * Rounds in which the bounds of g and of its slope tighten each other. With one, the neighbourhood of the centre of an arc, where
 * both vanish, was cut into a million spans; from four on it is dropped or taken as a whole.
 */
const boundRounds = 4

/** Where a search looks: x, y and heading; and g and n there. One of each serves all searches, for none calls another. */
const place = poseSlot()
const square = new Float64Array(2)

function squareFrom(x: number, y: number, headingRad: number, p: Point): void {
  const cos = Math.cos(headingRad)
  const sin = Math.sin(headingRad)
  const dx = p.x - x
  const dy = p.y - y
  square[0] = -(dx * cos + dy * sin)
  square[1] = dy * cos - dx * sin
}

/** g and n at distance s along an element. */
function squareAt(element: PathElement, s: number, p: Point): void {
  elementPoseInto(place, element, s)
  squareFrom(place[0] ?? 0, place[1] ?? 0, place[2] ?? 0, p)
}

const along = (): number => square[0] ?? 0
const across = (): number => square[1] ?? 0

/** Zero of g between from and to, where it has opposite signs and rises. Newton steps, halving when they leave the bracket. */
function elementSquareBetween(element: PathElement, p: Point, from: number, to: number): number {
  let low = from
  let high = to
  let s = 0.5 * (from + to)
  for (let i = 0; i < 100; i++) {
    squareAt(element, s, p)
    if (along() === 0) return s
    if (along() < 0) low = s
    else high = s
    const slope = 1 - elementCurvatureAt(element, s) * across()
    const newton = s - along() / slope
    const next = newton > low && newton < high ? newton : 0.5 * (low + high)
    if (Math.abs(next - s) <= 1e-13 * (1 + Math.abs(s)) || next === low || next === high) return next
    s = next
  }
  return s
}

/** Running best of a search: its station and distance, and the pose there. */
const best = new Float64Array(5)

/** Farther by more than this, mm, is farther whatever the rounding of a squared distance. */
const surelyMm = 1e-6

/** Whether a place is surely farther than `mm`. */
function isBeyond(p: Point, x: number, y: number, mm: number): boolean {
  const dx = p.x - x
  const dy = p.y - y
  const most = mm + surelyMm
  return dx * dx + dy * dy > most * most
}

/** Takes a place at a station if it is nearer than the best so far. */
function bestTry(p: Point, x: number, y: number, headingRad: number, stationMm: number): void {
  const leastMm = best[1] ?? 0
  if (isBeyond(p, x, y, leastMm)) return
  const dx = p.x - x
  const dy = p.y - y
  const distanceMm = Math.sqrt(dx * dx + dy * dy)
  const gain = leastMm - distanceMm
  if (gain > distanceRoundingMm || (Math.abs(gain) <= distanceRoundingMm && stationMm < (best[0] ?? 0))) {
    best[0] = stationMm
    best[1] = distanceMm
    best[2] = x
    best[3] = y
    best[4] = headingRad
  }
}

/** The same for the place at distance s along an element. */
function bestTryAt(element: PathElement, p: Point, s: number): void {
  elementPoseInto(place, element, s)
  bestTry(p, place[0] ?? 0, place[1] ?? 0, place[2] ?? 0, element.startStationMm + s)
}

/** An arc that turns by less than this over a span is told by the first term of its angle, rad. */
const slightRad = 1e-6

/**
 * Searches one span of a line or an arc: seen from the middle of the span, P lies square to the place that is turned as far from it
 * about the centre as P is. Ends of the span are tried by others.
 */
function evenSpanSearch(element: PathElement, p: Point, from: number, to: number, known: Pose | null): void {
  const k = element.k0
  const middle = 0.5 * (from + to)
  if (known === null) squareAt(element, middle, p)
  else squareFrom(known.x, known.y, known.headingRad, p)
  // A bend that is hardly one: its angle would drown in rounding, and the first term of the arctangent is off by a millionth of a millionth.
  const isSlight = Math.abs(k) * (to - from) < slightRad
  const s = middle + (isSlight ? -along() / (1 - k * across()) : Math.atan2(-k * along(), 1 - k * across()) / k)
  if (s > from && s < to) bestTryAt(element, p, s)
}

/** Searches one span of an element for anything nearer than the best so far; known: the pose in its middle, if that is known. */
function spanSearch(element: PathElement, p: Point, spanFrom: number, spanTo: number, known: Pose | null): void {
  if (element.k0 === element.k1 && Math.abs(element.k0) * (spanTo - spanFrom) < Math.PI) {
    evenSpanSearch(element, p, spanFrom, spanTo, known)
    return
  }
  const waiting: [number, number][] = [[spanFrom, spanTo]]
  for (let span = waiting.pop(); span; span = waiting.pop()) {
    const [from, to] = span
    const half = 0.5 * (to - from)
    const middle = 0.5 * (from + to)
    squareAt(element, middle, p)
    const [g, n] = [along(), across()]
    const distance = Math.sqrt(g * g + n * n)
    if (distance - half > (best[1] ?? 0)) continue
    const k0 = elementCurvatureAt(element, from)
    const k1 = elementCurvatureAt(element, to)
    const kMost = Math.max(Math.abs(k0), Math.abs(k1))
    let alongMost = distance + half
    let slopeLeast = 0
    let slopeMost = 0
    for (let round = 0; round < boundRounds; round++) {
      // n' = k g, so within the span the offset of P sways by no more than this.
      const sway = kMost * alongMost * half
      const [least, most] = [n - sway, n + sway]
      slopeLeast = 1 - Math.max(k0 * least, k0 * most, k1 * least, k1 * most)
      slopeMost = 1 - Math.min(k0 * least, k0 * most, k1 * least, k1 * most)
      alongMost = Math.min(alongMost, Math.abs(g) + half * Math.max(Math.abs(slopeLeast), Math.abs(slopeMost)))
    }
    if (Math.abs(g) > half * Math.max(Math.abs(slopeLeast), Math.abs(slopeMost))) continue
    // The distance changes by g / distance to the mm.
    if (half <= shortestSpanMm || half * alongMost <= distanceRoundingMm * distance) {
      bestTryAt(element, p, middle)
    } else if (slopeLeast > 0) {
      squareAt(element, from, p)
      const first = along()
      squareAt(element, to, p)
      const last = along()
      // Ends of the span are tried by the spans beside it or as ends of the search.
      if (first < 0 && last > 0) bestTryAt(element, p, elementSquareBetween(element, p, from, to))
      else bestTryAt(element, p, first >= 0 ? from : to)
    } else if (slopeMost >= 0) {
      waiting.push([middle, to], [from, middle])
    }
    // A falling g has only a farthest place inside; the nearest is at an end, and ends are tried.
  }
}

/**
 * Nearest place of a path between two stations.
 *
 * Units:      mm. offsetMm is the part of the way to the point that is square to the path, positive left of rising station;
 *             its size is distanceMm except where the nearest place is an end and the point lies beyond it.
 * Domain:     0 <= from <= to <= length. Of places equally near the one with the lowest station.
 * Exactness:  the distance to rounding; the station within 1e-6 mm as long as the point is not within a thousandth of the radius
 *             of the centre of curvature, where the nearest station itself becomes undefined.
 * Throws:     InvariantError for stations outside the path.
 */
export function pathNearestWithin(path: Path, point: Point, fromMm: number, toMm: number): NearestStation {
  const from = pathStationHeld(path, fromMm)
  const to = pathStationHeld(path, toMm)
  if (!(from <= to)) invariant(false, `a search must not run backwards: ${fromMm} to ${toMm}`)
  best[0] = from
  best[1] = Infinity
  const spans = pathSpans(path)
  // First a bound from the ends of all spans, then a search of those spans that can beat it.
  endTry(path, point, from)
  endTry(path, point, to)
  for (const { element, toMm: last, end } of spans) {
    const station = element.startStationMm + last
    if (station > from && station < to) bestTry(point, end.x, end.y, end.headingRad, station)
  }
  for (const { element, fromMm: start, toMm: end, middle } of spans) {
    if (isBeyond(point, middle.x, middle.y, (best[1] ?? 0) + 0.5 * (end - start))) continue
    const first = Math.max(start, from - element.startStationMm)
    const last = Math.min(end, to - element.startStationMm)
    if (last > first) spanSearch(element, point, first, last, first === start && last === end ? middle : null)
  }
  const [x, y] = [best[2] ?? 0, best[3] ?? 0]
  squareFrom(x, y, best[4] ?? 0, point)
  const stationMm = Math.min(Math.max(best[0] ?? 0, from), to)
  return { x, y, stationMm, distanceMm: best[1] ?? 0, offsetMm: across() }
}

/** Tries an end of a search. */
function endTry(path: Path, p: Point, stationMm: number): void {
  const known = stationMm === 0 ? pathStart(path) : stationMm === path.lengthMm ? path.end : null
  if (known === null) {
    pathPoseInto(place, path, stationMm)
    bestTry(p, place[0] ?? 0, place[1] ?? 0, place[2] ?? 0, stationMm)
  } else bestTry(p, known.x, known.y, known.headingRad, stationMm)
}

/** Nearest place of a whole path; see pathNearestWithin. */
export function pathNearest(path: Path, point: Point): NearestStation {
  return pathNearestWithin(path, point, 0, path.lengthMm)
}
