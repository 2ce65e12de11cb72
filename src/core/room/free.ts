import { polygonEdgeDistance } from '../geom/index.ts'
import type { Point } from '../geom/types.ts'

/** Closer than this counts as touching: what stands against a wall is in the room, and beside another piece. */
const TOUCH_MM = 0.5
/** Places looked at along each side of what is to stand, its ends among them. */
const LOOKS = 9
/** In a room with more in it nothing is looked for: every place is held against every point. */
const MOST_POINTS = 80

/**
 * Lower left corner of a free place for something upright of that size in a room: in line with a corner of it or of what stands there,
 * the lowest of them and then the leftmost. Null: there is none. It looks at a grid of places in it, so that a spike thinner than its
 * steps can be missed.
 */
export function freePlaceIn(
  room: readonly Point[],
  taken: readonly (readonly Point[])[],
  size: { readonly longMm: number; readonly deepMm: number },
): Point | null {
  const points = [room, ...taken].flat()
  if (points.length > MOST_POINTS) return null
  const xs = [...new Set(points.flatMap(({ x }) => [x, x - size.longMm]))]
  const ys = [...new Set(points.flatMap(({ y }) => [y, y - size.deepMm]))]
  const places = ys.flatMap((y) => xs.map((x) => ({ x, y }))).toSorted((a, b) => a.y - b.y || a.x - b.x)
  return places.find((at) => isFree(at, room, taken, size)) ?? null
}

function isFree(
  at: Point,
  room: readonly Point[],
  taken: readonly (readonly Point[])[],
  { longMm, deepMm }: { readonly longMm: number; readonly deepMm: number },
): boolean {
  const inside = (ring: readonly Point[], p: Point): number => polygonEdgeDistance({ outline: ring, holes: [] }, p)?.distanceMm ?? -Infinity
  const isUnder = ({ x, y }: Point): boolean =>
    x > at.x + TOUCH_MM && x < at.x + longMm - TOUCH_MM && y > at.y + TOUCH_MM && y < at.y + deepMm - TOUCH_MM
  if ([room, ...taken].some((ring) => ring.some(isUnder))) return false
  const steps = Array.from({ length: LOOKS }, (_, i) => i / (LOOKS - 1))
  return steps.every((across) =>
    steps.every((up) => {
      const p = { x: at.x + across * longMm, y: at.y + up * deepMm }
      return inside(room, p) > -TOUCH_MM && taken.every((ring) => inside(ring, p) < TOUCH_MM)
    }),
  )
}
