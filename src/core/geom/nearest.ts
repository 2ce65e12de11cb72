import { elementCurvatureAt, elementPoseAt } from './element.ts'
import { pathSpans } from './spans.ts'
import { pathPoseAt, pathStationHeld } from './path.ts'
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

interface Square {
  readonly along: number
  readonly across: number
}

function squareAt(pose: Pose, p: Point): Square {
  const cos = Math.cos(pose.headingRad)
  const sin = Math.sin(pose.headingRad)
  const dx = p.x - pose.x
  const dy = p.y - pose.y
  return { along: -(dx * cos + dy * sin), across: dy * cos - dx * sin }
}

/** Zero of g between from and to, where it has opposite signs and rises. Newton steps, halving when they leave the bracket. */
function elementSquareBetween(element: PathElement, p: Point, from: number, to: number): number {
  let low = from
  let high = to
  let s = 0.5 * (from + to)
  for (let i = 0; i < 100; i++) {
    const { along, across } = squareAt(elementPoseAt(element, element.start, s), p)
    if (along === 0) return s
    if (along < 0) low = s
    else high = s
    const slope = 1 - elementCurvatureAt(element, s) * across
    const newton = s - along / slope
    const next = newton > low && newton < high ? newton : 0.5 * (low + high)
    if (Math.abs(next - s) <= 1e-13 * (1 + Math.abs(s)) || next === low || next === high) return next
    s = next
  }
  return s
}

/** Running best of a search. */
interface Best {
  stationMm: number
  distanceMm: number
}

/**
 * Farther by more than this, mm, is farther whatever the rounding of a squared distance. Most places are told to be so far by their
 * squares alone: an exact length costs ten times as much.
 */
const surelyMm = 1e-6

/** Whether a place is surely farther than `mm`. */
function isBeyond(p: Point, place: Point, mm: number): boolean {
  const dx = p.x - place.x
  const dy = p.y - place.y
  const most = mm + surelyMm
  return dx * dx + dy * dy > most * most
}

/** Takes the place at distance s along an element, with its pose, if it is nearer than the best so far. */
function bestTry(best: Best, element: PathElement, p: Point, s: number, pose: Pose = elementPoseAt(element, element.start, s)): void {
  if (isBeyond(p, pose, best.distanceMm)) return
  const distanceMm = Math.hypot(p.x - pose.x, p.y - pose.y)
  const stationMm = element.startStationMm + s
  const gain = best.distanceMm - distanceMm
  if (gain > distanceRoundingMm || (Math.abs(gain) <= distanceRoundingMm && stationMm < best.stationMm)) {
    best.stationMm = stationMm
    best.distanceMm = distanceMm
  }
}

/** An arc that turns by less than this over a span is told by the first term of its angle, rad. */
const slightRad = 1e-6

/**
 * Searches one span of a line or an arc: seen from the middle of the span, P lies square to the place that is turned as far from it
 * about the centre as P is. Ends of the span are tried by others.
 */
function evenSpanSearch(best: Best, element: PathElement, p: Point, from: number, to: number): void {
  const k = element.k0
  const middle = 0.5 * (from + to)
  const { along, across } = squareAt(elementPoseAt(element, element.start, middle), p)
  // A bend that is hardly one: its angle would drown in rounding, and the first term of the arctangent is off by a millionth of a millionth.
  const isSlight = Math.abs(k) * (to - from) < slightRad
  const s = middle + (isSlight ? -along / (1 - k * across) : Math.atan2(-k * along, 1 - k * across) / k)
  if (s > from && s < to) bestTry(best, element, p, s)
}

/** Searches one span of an element for anything nearer than `best`. */
function spanSearch(best: Best, element: PathElement, p: Point, spanFrom: number, spanTo: number): void {
  if (element.k0 === element.k1 && Math.abs(element.k0) * (spanTo - spanFrom) < Math.PI) {
    evenSpanSearch(best, element, p, spanFrom, spanTo)
    return
  }
  const waiting: [number, number][] = [[spanFrom, spanTo]]
  for (let span = waiting.pop(); span; span = waiting.pop()) {
    const [from, to] = span
    const half = 0.5 * (to - from)
    const middle = 0.5 * (from + to)
    const { along, across } = squareAt(elementPoseAt(element, element.start, middle), p)
    const distance = Math.sqrt(along * along + across * across)
    if (distance - half > best.distanceMm) continue
    const k0 = elementCurvatureAt(element, from)
    const k1 = elementCurvatureAt(element, to)
    const kMost = Math.max(Math.abs(k0), Math.abs(k1))
    let alongMost = distance + half
    let slopeLeast = 0
    let slopeMost = 0
    for (let round = 0; round < boundRounds; round++) {
      // n' = k g, so within the span the offset of P sways by no more than this.
      const sway = kMost * alongMost * half
      const [least, most] = [across - sway, across + sway]
      slopeLeast = 1 - Math.max(k0 * least, k0 * most, k1 * least, k1 * most)
      slopeMost = 1 - Math.min(k0 * least, k0 * most, k1 * least, k1 * most)
      alongMost = Math.min(alongMost, Math.abs(along) + half * Math.max(Math.abs(slopeLeast), Math.abs(slopeMost)))
    }
    if (Math.abs(along) > half * Math.max(Math.abs(slopeLeast), Math.abs(slopeMost))) continue
    // The distance changes by g / distance to the mm.
    if (half <= shortestSpanMm || half * alongMost <= distanceRoundingMm * distance) {
      bestTry(best, element, p, middle)
    } else if (slopeLeast > 0) {
      const first = squareAt(elementPoseAt(element, element.start, from), p).along
      const last = squareAt(elementPoseAt(element, element.start, to), p).along
      // Ends of the span are tried by the spans beside it or as ends of the search.
      if (first < 0 && last > 0) bestTry(best, element, p, elementSquareBetween(element, p, from, to))
      else bestTry(best, element, p, first >= 0 ? from : to)
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
  invariant(from <= to, () => `a search must not run backwards: ${fromMm} to ${toMm}`)
  const best: Best = { stationMm: from, distanceMm: Infinity }
  const spans = pathSpans(path)
  // First a bound from the ends of all spans, then a search of those spans that can beat it.
  for (const station of [from, to]) {
    const pose = pathPoseAt(path, station)
    const distanceMm = Math.hypot(point.x - pose.x, point.y - pose.y)
    if (distanceMm < best.distanceMm - distanceRoundingMm) {
      best.stationMm = station
      best.distanceMm = distanceMm
    }
  }
  for (const { element, toMm: last, end } of spans) {
    const station = element.startStationMm + last
    if (station > from && station < to) bestTry(best, element, point, last, end)
  }
  for (const { element, fromMm: start, toMm: end, middle } of spans) {
    if (isBeyond(point, middle, best.distanceMm + 0.5 * (end - start))) continue
    const first = Math.max(start, from - element.startStationMm)
    const last = Math.min(end, to - element.startStationMm)
    if (last > first) spanSearch(best, element, point, first, last)
  }
  const pose = pathPoseAt(path, Math.min(Math.max(best.stationMm, from), to))
  return {
    x: pose.x,
    y: pose.y,
    stationMm: pose.stationMm,
    distanceMm: best.distanceMm,
    offsetMm: squareAt(pose, point).across,
  }
}

/** Nearest place of a whole path; see pathNearestWithin. */
export function pathNearest(path: Path, point: Point): NearestStation {
  return pathNearestWithin(path, point, 0, path.lengthMm)
}
