import { alongTangent } from '../levels/index.ts'
import { pathNearestWithin, segmentNearest } from '../geom/index.ts'
import type { NearestStation, Point } from '../geom/types.ts'
import { bandEdges, sweepAlong } from '../vehicles/index.ts'
import type { Reach, RigidBody } from '../vehicles/index.ts'
import type { Span, SweptTrack, TrackLine } from './types.ts'

/** What bodies sweep on a line, at stations at most a step apart. */
export function sweptTrack(line: TrackLine, bodies: readonly RigidBody[], stepMm: number): SweptTrack {
  const { path, isClosed, span } = line
  const band = sweepAlong(path, bodies, { stepMm, isClosed, ...span })
  return { line, band, edges: bandEdges(band) }
}

/** How a point stands to a swept band: distance to its edge, negative within, and to its centreline. */
export interface BandPlace {
  readonly gapMm: number
  readonly nearest: NearestStation
}

/** Edges leave the line by a quarter at most, as sides of cars do; the nearest place of one is not farther along than this part of the way to it. */
const steepestEdge = 0.5

/**
 * Distance from a point to a swept band. Within it, how far it lies from the edge square to the line.
 *
 * Exactness: that of the band's edges as chords; its ends count as cut off square. within: stations of it that count.
 */
export function bandPlace({ line, band, edges }: SweptTrack, point: Point, within: Span = line.span): BandPlace {
  const nearest = pathNearestWithin(line.path, point, within.fromMm, within.toMm)
  const { stationMm, offsetMm, distanceMm } = nearest
  const at = reachIndex(band.reaches, stationMm)
  const reachMm = reachBetween(band.reaches, at, stationMm, offsetMm > 0 ? 1 : -1)
  // Beyond an end the way to it is longer than its part square to the line.
  const isBeside = distanceMm - Math.abs(offsetMm) < 1e-6
  if (isBeside && Math.abs(offsetMm) <= reachMm) return { gapMm: Math.abs(offsetMm) - reachMm, nearest }
  const windowMm = Math.max(0, distanceMm - reachMm) * steepestEdge
  const last = band.reaches.length - 1
  let best = Infinity
  const consider = (a: Point | undefined, b: Point | undefined): void => {
    if (a && b) best = Math.min(best, segmentNearest(a, b, point).distanceMm)
  }
  // A loop goes on at its other end.
  for (const turnMm of band.isClosed ? [-line.path.lengthMm, 0, line.path.lengthMm] : [0]) {
    const middleMm = stationMm + turnMm
    if (middleMm + windowMm < line.span.fromMm || middleMm - windowMm > line.span.toMm) continue
    const from = Math.max(0, reachIndex(band.reaches, middleMm - windowMm) - 1)
    const to = Math.min(last, reachIndex(band.reaches, middleMm + windowMm) + 2)
    for (const edge of [edges.left, edges.right]) for (let i = from; i < to; i++) consider(edge[i], edge[i + 1])
  }
  if (!band.isClosed) {
    if (within.fromMm <= line.span.fromMm) consider(edges.left[0], edges.right[0])
    if (within.toMm >= line.span.toMm) consider(edges.left[last], edges.right[last])
  }
  return { gapMm: best, nearest }
}

/** Index of the last station not behind a place; 0 before the first. */
function reachIndex(reaches: readonly Reach[], stationMm: number): number {
  let [low, high] = [0, Math.max(0, reaches.length - 1)]
  while (low < high) {
    const middle = Math.ceil((low + high) / 2)
    if ((reaches[middle]?.stationMm ?? Infinity) <= stationMm) low = middle
    else high = middle - 1
  }
  return low
}

function reachBetween(reaches: readonly Reach[], index: number, stationMm: number, side: 1 | -1): number {
  const [a, b] = [reaches[index], reaches[index + 1] ?? reaches[index]]
  if (!a || !b) return 0
  const [ra, rb] = side === 1 ? [a.leftMm, b.leftMm] : [a.rightMm, b.rightMm]
  const lengthMm = b.stationMm - a.stationMm
  return lengthMm <= 0 ? ra : ra + ((rb - ra) * (stationMm - a.stationMm)) / lengthMm
}

/** By the mm along a band its edges' distance to anything changes by no more than this: their slope, and what a curve adds outside. */
const steepest = 1.5

/** The next station of a band to be looked at when all is known to be free for so far round this one. */
export function strideOn(reaches: readonly Reach[], index: number, freeMm: number): number {
  const farMm = (reaches[index]?.stationMm ?? 0) + freeMm / steepest
  let next = index + 1
  while (next < reaches.length - 1 && (reaches[next + 1]?.stationMm ?? Infinity) < farMm) next += 1
  return next
}

/** The most that is reached to either side anywhere, mm. */
export function sweptMost({ band }: SweptTrack): number {
  return band.reaches.reduce((most, { leftMm, rightMm }) => Math.max(most, leftMm, rightMm), 0)
}

/** How far along a line what is near in plan to another of these may lie, where both are of known levels. */
export function sweptAlong(swept: readonly SweptTrack[], limitMm: number): number {
  const known = swept.filter(({ line }) => line.level !== null)
  if (known.length < 2) return 0
  const reachMm = 2 * known.reduce((most, one) => Math.max(most, sweptMost(one)), 0) + limitMm
  const curvature = known.reduce(
    (most, { line }) => line.path.elements.reduce((own, { k0, k1 }) => Math.max(own, Math.abs(k0), Math.abs(k1)), most),
    0,
  )
  return alongTangent(reachMm, curvature)
}
