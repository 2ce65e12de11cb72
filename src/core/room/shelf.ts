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

/** Where the wall goes on beyond the run, before it and after it; null: it does not, or does not matter. */
export interface RunBeyond {
  readonly before: Point | null
  readonly after: Point | null
}

/** Below this sine of the angle to the run, a neighbouring wall is no end for a shelf: it is cut square there. */
const END_SINE = 0.5

/**
 * The outline of a shelf along a run of wall, as deep as `depthMm` everywhere, mitred at the corners.
 *
 * points:    the face of the wall along which the shelf runs, two points or more.
 * beyond:    an end of the shelf runs along the wall that it meets there, out of square as that may be; else it is square to the run.
 * side:      on which side of that run the shelf lies.
 * Exactness: the front edge is parallel to each side at depthMm; a front edge that would fold back is refused, not cut.
 */
export function shelfAlong(
  points: readonly Point[],
  side: 'left' | 'right',
  depthMm: number,
  beyond: RunBeyond = { before: null, after: null },
): Shelf {
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
    const end = before === undefined ? beyond.before : beyond.after
    const along = before === undefined || next === undefined ? endAlong(point, { ux, uy }, sign, end) : (eaten[i - 1] ?? 0)
    return { x: point.x - sign * uy * depthMm + ux * along * depthMm, y: point.y + sign * ux * depthMm + uy * along * depthMm }
  })
  const outline = side === 'left' ? [...run, ...front.toReversed()] : [...front, ...run.toReversed()]
  return { ok: true, outline }
}

/** How far along the run an end of the front lies for each mm of depth: on the wall that goes on from there, or square (0). */
function endAlong(at: Point, { ux, uy }: { readonly ux: number; readonly uy: number }, sign: number, beyond: Point | null): number {
  if (beyond === null) return 0
  const lengthMm = Math.hypot(beyond.x - at.x, beyond.y - at.y)
  const [wx, wy] = [(beyond.x - at.x) / lengthMm, (beyond.y - at.y) / lengthMm]
  const sine = sign * (ux * wy - uy * wx)
  return sine > END_SINE ? (ux * wx + uy * wy) / sine : 0
}

/** A run of a wall from one of its points to another, on past the first one where the wall is closed; from a point to itself: none. */
export function wallRun(
  points: readonly Point[],
  isClosed: boolean,
  from: number,
  to: number,
): { readonly points: readonly Point[]; readonly beyond: RunBeyond } {
  if (from === to) return { points: [], beyond: { before: null, after: null } }
  const [first, last] = from > to && !isClosed ? [to, from] : [from, to]
  const at = (i: number): Point | null => points[isClosed ? (i + points.length) % points.length : i] ?? null
  const run = first < last ? points.slice(first, last + 1) : [...points.slice(first), ...points.slice(0, last + 1)]
  return { points: run, beyond: { before: at(first - 1), after: at(last + 1) } }
}

/** The side of a closed ring on which its inside lies, for one who walks it in the order of its points. */
export function insideOf(ring: readonly Point[]): 'left' | 'right' {
  return ringArea(ring) < 0 ? 'right' : 'left'
}
