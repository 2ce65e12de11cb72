import { pointDistance } from './point.ts'
import type { Point } from './types.ts'

/** The straight length from one point of a row to the next. */
export interface Side {
  /** Place of the point that it begins at. */
  readonly index: number
  readonly a: Point
  readonly b: Point
  /** How far along the row it begins. */
  readonly startMm: number
  readonly lengthMm: number
}

/** The sides of a row of points, of a closed one also from the last to the first. What has no length is none. */
export function polylineSides(points: readonly Point[], isClosed: boolean): readonly Side[] {
  let startMm = 0
  return points.flatMap((a, index) => {
    const b = points[index + 1] ?? (isClosed ? points[0] : undefined)
    const lengthMm = b === undefined ? 0 : pointDistance(a, b)
    if (b === undefined || lengthMm === 0) return []
    const side = { index, a, b, startMm, lengthMm }
    startMm += lengthMm
    return [side]
  })
}
