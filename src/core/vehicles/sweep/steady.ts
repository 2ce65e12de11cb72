import type { Reach, RigidBody } from './types.ts'

/** How far to both sides of a line, mm. */
export type SideReach = Pick<Reach, 'leftMm' | 'rightMm'>

/** A radius this much above the least that a body can stand on is one that it can stand on. */
const barelyWider = 1 + 1e-9

/**
 * How far a body reaches to both sides of a line of one curvature, wherever it stands on it.
 *
 * Units:      curvature 1/mm, + left; mm.
 * Exactness:  the closed formula to rounding. On a curve too sharp for the body, that of the sharpest one it can stand on.
 * Throws:     never.
 * Source:     derived. Pivots run on circles inside of the line by what their axles' chord cuts off; seen from the body, the centre of the
 *             curve is the point as far from either pivot. The corner farthest from it tells the outer side, the nearest place of the
 *             inner side the inner one.
 */
export function steadyReach(body: RigidBody, curvature: number): SideReach {
  const { front, rear, ribs } = body
  const widest = Math.max(0, ...ribs.map(({ halfWidthMm }) => halfWidthMm))
  const apart = front.xMm - rear.xMm
  const least = Math.hypot(apart / 2, Math.max(front.wheelbaseMm, rear.wheelbaseMm) / 2, widest) * barelyWider
  const sharp = Math.min(Math.abs(curvature), 1 / least)
  if (sharp === 0) return { leftMm: widest, rightMm: widest }
  const radius = 1 / sharp
  const squareOf = (wheelbaseMm: number): number => radius * radius - (wheelbaseMm * wheelbaseMm) / 4
  const [frontSquare, rearSquare] = [squareOf(front.wheelbaseMm), squareOf(rear.wheelbaseMm)]
  const x = apart > 0 ? (front.xMm + rear.xMm) / 2 - (frontSquare - rearSquare) / (2 * apart) : front.xMm
  const y = Math.sqrt(Math.max(0, frontSquare - (front.xMm - x) ** 2))
  let [inner, outer] = [-Infinity, -Infinity]
  for (const [i, { xMm, halfWidthMm }] of ribs.entries()) {
    outer = Math.max(outer, beyond(xMm - x, y + halfWidthMm, radius))
    const next = ribs[i + 1]
    if (next !== undefined) inner = Math.max(inner, radius - sideDistance(xMm - x, halfWidthMm - y, next.xMm - x, next.halfWidthMm - y))
  }
  const [insideMm, outsideMm] = [Math.max(0, inner), Math.max(0, outer)]
  return curvature > 0 ? { leftMm: insideMm, rightMm: outsideMm } : { leftMm: outsideMm, rightMm: insideMm }
}

/** How far a corner lies beyond a circle, as a quotient, which keeps its digits on wide curves. */
function beyond(x: number, y: number, radius: number): number {
  return (x * x + (y - radius) * (y + radius)) / (Math.hypot(x, y) + radius)
}

/** Distance of the origin from a segment. */
function sideDistance(ax: number, ay: number, bx: number, by: number): number {
  const [dx, dy] = [bx - ax, by - ay]
  const square = dx * dx + dy * dy
  const t = square === 0 ? 0 : Math.min(1, Math.max(0, -(ax * dx + ay * dy) / square))
  return Math.hypot(ax + t * dx, ay + t * dy)
}
