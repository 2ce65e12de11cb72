import { ringArea } from '../geom/index.ts'
import type { Point } from '../geom/types.ts'

export type ShelfProblem =
  | { readonly kind: 'badDepth'; readonly depthMm: number }
  | { readonly kind: 'noSides' }
  /** So deep that its front edge would fold back along this side of the run, counted from 0. */
  | { readonly kind: 'tooDeep'; readonly side: number; readonly mostMm: number }

export type Shelf = { readonly ok: true; readonly outline: readonly Point[] } | { readonly ok: false; readonly problem: ShelfProblem }

/** Below this, rounding: of an angle between sides as good as in line, and of what is left of a front edge. */
const STRAIGHT = 1e-9

/**
 * The outline of a shelf along a run of wall, as deep as `depthMm` everywhere, mitred at the corners.
 *
 * points:    the face of the wall along which the shelf runs, two points or more.
 * side:      on which side of that run the shelf lies.
 * Exactness: the front edge is parallel to each side at depthMm; a front edge that would fold back is refused, not cut.
 */
export function shelfAlong(points: readonly Point[], side: 'left' | 'right', depthMm: number): Shelf {
  if (!(depthMm > 0 && depthMm <= 1e5)) return { ok: false, problem: { kind: 'badDepth', depthMm } }
  const run = points.filter((point, i) => {
    const before = points[i - 1]
    return before === undefined || Math.hypot(point.x - before.x, point.y - before.y) > 0
  })
  const sign = side === 'left' ? 1 : -1
  const sides = run.slice(1).flatMap((b, i) => {
    const a = run[i]
    if (a === undefined) return []
    const lengthMm = Math.hypot(b.x - a.x, b.y - a.y)
    return [{ a, b, lengthMm, ux: (b.x - a.x) / lengthMm, uy: (b.y - a.y) / lengthMm }]
  })
  const [first, last] = [sides[0], sides.at(-1)]
  if (first === undefined || last === undefined) return { ok: false, problem: { kind: 'noSides' } }
  // Along each side a mitre eats depth * tan(half of the turn towards the shelf); away from it, the front grows by as much.
  const eaten = sides.slice(1).map((next, i) => {
    const before = sides[i]
    if (before === undefined) return 0
    const turn = sign * Math.atan2(before.ux * next.uy - before.uy * next.ux, before.ux * next.ux + before.uy * next.uy)
    return Math.tan(turn / 2)
  })
  for (const [i, { lengthMm }] of sides.entries()) {
    const tans = (eaten[i - 1] ?? 0) + (eaten[i] ?? 0)
    const mostMm = tans > STRAIGHT ? lengthMm / tans : Infinity
    if (!(depthMm < mostMm * (1 - STRAIGHT))) return { ok: false, problem: { kind: 'tooDeep', side: i, mostMm } }
  }
  const front = run.map((point, i): Point => {
    const [before, next] = [sides[i - 1], sides[i]]
    const { ux, uy } = next ?? before ?? first
    const along = before === undefined || next === undefined ? 0 : (eaten[i - 1] ?? 0)
    return { x: point.x - sign * uy * depthMm + ux * along * depthMm, y: point.y + sign * ux * depthMm + uy * along * depthMm }
  })
  const outline = side === 'left' ? [...run, ...front.toReversed()] : [...front, ...run.toReversed()]
  return { ok: true, outline }
}

/** The corners of a wall from one of its points to another, on past the first one where the wall is closed; from a point to itself: none. */
export function wallRun(points: readonly Point[], isClosed: boolean, from: number, to: number): readonly Point[] {
  if (from === to) return []
  if (from < to) return points.slice(from, to + 1)
  return isClosed ? [...points.slice(from), ...points.slice(0, to + 1)] : points.slice(to, from + 1)
}

/** The side of a closed ring on which its inside lies, for one who walks it in the order of its points. */
export function insideOf(ring: readonly Point[]): 'left' | 'right' {
  return ringArea(ring) < 0 ? 'right' : 'left'
}
