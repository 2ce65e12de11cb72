import { angleWrap, boxOfPoints, pathPoseAt, poseReverse, poseToLocal, ringContains } from '../../geom/index.ts'
import type { Path, Point } from '../../geom/types.ts'
import type { CorridorChain, FairBound, FairRequest } from './types.ts'

/** Parallel within this, rad, is parallel. */
const PARALLEL_RAD = 1e-9

/**
 * The radius that no line for this request can exceed, where one is known; see FairBound.
 *
 * Units:      mm.
 * Exactness:  a true upper bound; the inscribed disc is at most a ten-thousandth of itself too large.
 * Source:     G. Pestov, V. Ionin 1959 for closed lines (from memory); the reverse curve is derived here: a line whose heading stays
 *             within a right angle of the legs and whose curvature stays within 1/R leaves the first leg no faster than an arc of
 *             R, and joins the other no slower, so run = 2 R sin(a) gives at most offset = 2 R (1 - cos(a)).
 */
export function fairBound(request: FairRequest, path: Path): FairBound | null {
  if (request.end.kind === 'closed') return discBound(request.corridor.chains, path)
  if (request.start.kind !== 'leg' || request.end.kind !== 'leg') return null
  const { x: runMm, y: offsetMm } = poseToLocal(request.start.pose, request.end.pose)
  const turnRad = angleWrap(poseReverse(request.end.pose).headingRad - request.start.pose.headingRad)
  if (Math.abs(turnRad) > PARALLEL_RAD || offsetMm === 0 || runMm < Math.abs(offsetMm)) return null
  return { kind: 'reverse', radiusMm: (runMm * runMm + offsetMm * offsetMm) / (4 * Math.abs(offsetMm)) }
}

/** How far apart a closed line is looked at to see whether a ring holds all of it; chains that it touches nowhere cannot slip between. */
const LOOKS = 256

/** How much too large the disc's radius may come out, as a share of the first guess. */
const DISC_SHARE = 1e-4

/** The largest disc within all rings that hold the whole line; null when none does. */
function discBound(chains: readonly CorridorChain[], path: Path): FairBound | null {
  const places = Array.from({ length: LOOKS }, (_, i) => pathPoseAt(path, (path.lengthMm * i) / LOOKS))
  const outer = chains.filter(({ points, keepsMm }) => {
    const first = points[0]
    const last = points.at(-1)
    const isRing = first !== undefined && last !== undefined && points.length > 3 && first.x === last.x && first.y === last.y
    return isRing && keepsMm.every((keepMm) => keepMm > 0) && places.every((place) => ringContains(points.slice(1), place))
  })
  const box = boxOfPoints(outer[0]?.points ?? [])
  if (box === null) return null
  const room = ({ x, y }: Point): number => Math.min(...outer.map((chain) => ringRoom(chain, x, y)))
  const halfMm = Math.max(box.maxX - box.minX, box.maxY - box.minY) / 2
  const middle = { x: (box.minX + box.maxX) / 2, y: (box.minY + box.maxY) / 2 }
  let best = Math.max(0, room(middle), ...places.map(room))
  // Squares that may hold something better are quartered, until none may by more than the share.
  let squares = [{ ...middle, halfMm }]
  let most = Infinity
  while (squares.length > 0) {
    const enough = best * (1 + DISC_SHARE)
    most = enough
    squares = squares.flatMap((square) => {
      const roomMm = room(square)
      if (roomMm > best) best = roomMm
      if (roomMm + square.halfMm * Math.SQRT2 <= enough) return []
      const half = square.halfMm / 2
      return QUARTERS.map(([sx, sy]) => ({ x: square.x + sx * half, y: square.y + sy * half, halfMm: half }))
    })
    if (squares.length > MOST_SQUARES) return null
  }
  return Number.isFinite(most) && best > 0 ? { kind: 'inscribedDisc', radiusMm: Math.max(most, best) } : null
}

const QUARTERS: readonly (readonly [number, number])[] = [
  [-1, -1],
  [1, -1],
  [1, 1],
  [-1, 1],
]

/** More squares than this mean a corridor in which half of everything is equally wide; then no bound is told. */
const MOST_SQUARES = 100_000

/** Distance to the nearest edge less what it asks, negative outside of the ring. */
function ringRoom({ points, keepsMm }: CorridorChain, x: number, y: number): number {
  let least = Infinity
  for (const [i, b] of points.entries()) {
    const a = points[i - 1]
    if (a === undefined) continue
    const dx = b.x - a.x
    const dy = b.y - a.y
    const square = dx * dx + dy * dy
    const t = square === 0 ? 0 : Math.min(1, Math.max(0, ((x - a.x) * dx + (y - a.y) * dy) / square))
    least = Math.min(least, Math.hypot(x - a.x - t * dx, y - a.y - t * dy) - (keepsMm[i - 1] ?? 0))
  }
  return ringContains(points.slice(1), { x, y }) ? least : -Math.abs(least)
}
