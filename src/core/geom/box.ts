import type { Box, Point } from './types.ts'

/** Smallest box round the points; null when there are none. */
export function boxOfPoints(points: readonly Point[]): Box | null {
  if (points.length === 0) return null
  let minX = Infinity
  let minY = Infinity
  let maxX = -Infinity
  let maxY = -Infinity
  for (const p of points) {
    minX = Math.min(minX, p.x)
    minY = Math.min(minY, p.y)
    maxX = Math.max(maxX, p.x)
    maxY = Math.max(maxY, p.y)
  }
  return { minX, minY, maxX, maxY }
}

/** Smallest box round both. */
export function boxUnion(a: Box, b: Box): Box {
  return {
    minX: Math.min(a.minX, b.minX),
    minY: Math.min(a.minY, b.minY),
    maxX: Math.max(a.maxX, b.maxX),
    maxY: Math.max(a.maxY, b.maxY),
  }
}

/** Box grown by a margin on every side, mm. */
export function boxGrow(box: Box, marginMm: number): Box {
  return { minX: box.minX - marginMm, minY: box.minY - marginMm, maxX: box.maxX + marginMm, maxY: box.maxY + marginMm }
}

/** True when the boxes share a point; touching edges count. */
export function boxesOverlap(a: Box, b: Box): boolean {
  return a.minX <= b.maxX && b.minX <= a.maxX && a.minY <= b.maxY && b.minY <= a.maxY
}

/** True when the boxes, the first grown by a margin on every side, share a point; makes nothing, for where many are compared. */
export function boxesWithin(a: Box, b: Box, marginMm: number): boolean {
  return a.minX - marginMm <= b.maxX && b.minX <= a.maxX + marginMm && a.minY - marginMm <= b.maxY && b.minY <= a.maxY + marginMm
}

/** True when the point lies in the box or on its edge. */
export function boxContains(box: Box, p: Point): boolean {
  return p.x >= box.minX && p.x <= box.maxX && p.y >= box.minY && p.y <= box.maxY
}
