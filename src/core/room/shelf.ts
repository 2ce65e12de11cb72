import { ringArea } from '../geom/index.ts'
import type { Point } from '../geom/types.ts'

export type ShelfProblem =
  | { readonly kind: 'badDepth'; readonly depthMm: number }
  | { readonly kind: 'noSides' }
  /**
   * The depths at its ends take all of the front edge of this side of the run, counted from 0, so that it would fold back.
   * mostMm: how deep all may be; null: they differ.
   */
  | { readonly kind: 'tooDeep'; readonly side: number; readonly takenMm: number; readonly lengthMm: number; readonly mostMm: number | null }
  /** The cuts or rounds of its inner corners leave nothing of this front edge. mostMm: what each may take of it. */
  | { readonly kind: 'cornerTooLarge'; readonly side: number; readonly mostMm: number }
  | { readonly kind: 'badCorner'; readonly sizeMm: number }

export type Shelf = { readonly ok: true; readonly outline: readonly Point[] } | { readonly ok: false; readonly problem: ShelfProblem }

/** What becomes of the corners of the front edge that turn into the room: left sharp, cut at half the turn, or rounded. */
export type InnerCorner =
  | { readonly kind: 'square' }
  /** So far along each front edge from where they would meet. */
  | { readonly kind: 'cut'; readonly byMm: number }
  | { readonly kind: 'eased'; readonly radiusMm: number }

/** Below this, rounding: of an angle between sides as good as in line, and of what is left of a front edge. */
const STRAIGHT = 1e-9

/** A rounded corner is drawn in sides that lie this near to the round, mm: what a file takes off. Common practice, no source. */
const ROUND_OFF_MM = 1

/** Where the wall goes on beyond the run, before it and after it; null: it does not, or does not matter. */
export interface RunBeyond {
  readonly before: Point | null
  readonly after: Point | null
}

/** Below this sine of the angle to the run, a neighbouring wall is no end for a shelf: it is cut square there. */
const END_SINE = 0.5

interface Side {
  readonly a: Point
  readonly b: Point
  readonly lengthMm: number
  readonly ux: number
  readonly uy: number
  readonly depthMm: number
}

/** How benchwork lies along a run: how deep along each side (one number: along all), how its inner corners are, what its ends meet. */
export interface ShelfLook {
  /** On which side of the run it lies. */
  readonly side: 'left' | 'right'
  readonly depthMm: number | readonly number[]
  readonly inner?: InnerCorner
  /** An end runs along the wall that it meets there, out of square as that may be; else it is square to the run. */
  readonly beyond?: RunBeyond
}

/**
 * The outline of a shelf along a run of wall, or of an L or a U along its back, mitred at the corners.
 *
 * points:    the face of the wall along which the shelf runs, two points or more.
 * Exactness: the front edge is parallel to each side at its depth; a front edge that would fold back is refused, not cut. A rounded
 *            corner is drawn in sides that lie within ROUND_OFF_MM of it.
 */
export function shelfAlong(points: readonly Point[], { side, depthMm, inner = { kind: 'square' }, beyond }: ShelfLook): Shelf {
  const sign = side === 'left' ? 1 : -1
  const sides = sidesOf(points, depthMm)
  const [first, last] = [sides[0], sides.at(-1)]
  if (first === undefined || last === undefined) return { ok: false, problem: { kind: 'noSides' } }
  const bad = sides.find((one) => !(one.depthMm > 0 && one.depthMm <= 1e5))
  if (bad !== undefined) return { ok: false, problem: { kind: 'badDepth', depthMm: bad.depthMm } }
  const sizeMm = inner.kind === 'cut' ? inner.byMm : inner.kind === 'eased' ? inner.radiusMm : 1
  if (!(sizeMm > 0 && sizeMm <= 1e5)) return { ok: false, problem: { kind: 'badCorner', sizeMm } }

  const corners = sides.slice(1).map((next, i) => frontCorner(sides[i] ?? first, next, sign, inner))
  const problem = foldProblem(sides, corners)
  if (problem !== null) return { ok: false, problem }

  const ends = beyond ?? { before: null, after: null }
  const front = [
    frontPoint(first.a, first, sign, endAlong(first.a, first, sign, ends.before) * first.depthMm),
    ...sides.slice(1).flatMap((next, i) => cornerPoints(sides[i] ?? first, next, sign, corners[i], inner)),
    frontPoint(last.b, last, sign, endAlong(last.b, last, sign, ends.after) * last.depthMm),
  ]
  const run = [first.a, ...sides.map(({ b }) => b)]
  return { ok: true, outline: side === 'left' ? [...run, ...front.toReversed()] : [...front, ...run.toReversed()] }
}

function sidesOf(points: readonly Point[], depthMm: number | readonly number[]): readonly Side[] {
  return points.slice(1).flatMap((b, i) => {
    const a = points[i]
    const lengthMm = a === undefined ? 0 : Math.hypot(b.x - a.x, b.y - a.y)
    if (a === undefined || lengthMm === 0) return []
    const deep = typeof depthMm === 'number' ? depthMm : (depthMm[i] ?? Number.NaN)
    return [{ a, b, lengthMm, ux: (b.x - a.x) / lengthMm, uy: (b.y - a.y) / lengthMm, depthMm: deep }]
  })
}

/** What a corner eats of the front edge of the side before it and behind it (less than nothing: the front grows), and what its cut takes more. */
interface FrontCorner {
  readonly turnRad: number
  readonly before: number
  readonly after: number
  readonly cut: number
}

function frontCorner(before: Side, next: Side, sign: number, inner: InnerCorner): FrontCorner {
  const turnRad = sign * Math.atan2(before.ux * next.uy - before.uy * next.ux, before.ux * next.ux + before.uy * next.uy)
  const [cos, sin] = [Math.cos(turnRad), Math.sin(turnRad)]
  // One depth: a plain mitre, whatever the turn. Two of them: where the lines of the two fronts meet.
  const isMitre = before.depthMm === next.depthMm
  const eaten = (own: number, other: number): number => (isMitre ? own * Math.tan(turnRad / 2) : (other - own * cos) / sin)
  // Only where the front turns into the room is there an inner corner.
  const isInner = turnRad > STRAIGHT
  const cut = !isInner || inner.kind === 'square' ? 0 : inner.kind === 'cut' ? inner.byMm : inner.radiusMm * Math.tan(turnRad / 2)
  return { turnRad, before: eaten(before.depthMm, next.depthMm), after: eaten(next.depthMm, before.depthMm), cut }
}

function foldProblem(sides: readonly Side[], corners: readonly FrontCorner[]): ShelfProblem | null {
  const isOneDepth = sides.every(({ depthMm }) => depthMm === sides[0]?.depthMm)
  for (const [i, { lengthMm, depthMm }] of sides.entries()) {
    const [start, end] = [corners[i - 1], corners[i]]
    const takenMm = (start?.after ?? 0) + (end?.before ?? 0)
    const leftMm = lengthMm - takenMm
    if (!(leftMm > lengthMm * STRAIGHT))
      return { kind: 'tooDeep', side: i, takenMm, lengthMm, mostMm: isOneDepth ? depthMm * (lengthMm / takenMm) : null }
    const cuts = [start?.cut ?? 0, end?.cut ?? 0].filter((mm) => mm > 0)
    if (cuts.length > 0 && !((cuts[0] ?? 0) + (cuts[1] ?? 0) < leftMm * (1 - STRAIGHT)))
      return { kind: 'cornerTooLarge', side: i, mostMm: leftMm / cuts.length }
  }
  return null
}

/** The point of the front that lies so far along a side from one of its ends. */
function frontPoint(end: Point, { ux, uy, depthMm }: Side, sign: number, alongMm: number): Point {
  return { x: end.x - sign * uy * depthMm + ux * alongMm, y: end.y + sign * ux * depthMm + uy * alongMm }
}

function cornerPoints(before: Side, next: Side, sign: number, corner: FrontCorner | undefined, inner: InnerCorner): readonly Point[] {
  if (corner === undefined) return []
  const { turnRad, cut } = corner
  const from = frontPoint(before.b, before, sign, -corner.before - cut)
  if (cut === 0) return [from]
  const to = frontPoint(next.a, next, sign, corner.after + cut)
  if (inner.kind !== 'eased') return [from, to]
  const { radiusMm } = inner
  const most = 2 * Math.acos(Math.max(-1, 1 - ROUND_OFF_MM / radiusMm))
  const steps = Math.max(2, Math.ceil(turnRad / most))
  const centre = { x: from.x - sign * before.uy * radiusMm, y: from.y + sign * before.ux * radiusMm }
  const [rx, ry] = [from.x - centre.x, from.y - centre.y]
  const round = Array.from({ length: steps - 1 }, (_, i): Point => {
    const at = (sign * turnRad * (i + 1)) / steps
    return { x: centre.x + rx * Math.cos(at) - ry * Math.sin(at), y: centre.y + rx * Math.sin(at) + ry * Math.cos(at) }
  })
  return [from, ...round, to]
}

/** How far along the run an end of the front lies for each mm of depth: on the wall that goes on from there, or square (0). */
function endAlong(at: Point, { ux, uy }: Side, sign: number, beyond: Point | null): number {
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
