import type { Point } from '../../geom/types.ts'
import { cubicPoint } from '../chain.ts'
import type { Chain } from '../chain.ts'

/**
 * Points of a chain whose chords keep within the tolerance of it.
 * Source: a cubic's second derivative is at most 6 times the larger second difference of its control points; a chord over 1/n of it
 *         is off by at most that / (8 n^2).
 */
export function chainPoints(chain: Chain, toleranceMm: number): readonly Point[] {
  const points: Point[] = [chain.start]
  let from = chain.start
  for (const segment of chain.segments) {
    if (segment.kind === 'cubic') {
      const { c1, c2, to } = segment
      const bend = Math.max(
        Math.hypot(from.x - 2 * c1.x + c2.x, from.y - 2 * c1.y + c2.y),
        Math.hypot(c1.x - 2 * c2.x + to.x, c1.y - 2 * c2.y + to.y),
      )
      const count = Math.max(1, Math.ceil(Math.sqrt((6 * bend) / (8 * toleranceMm))))
      for (let i = 1; i < count; i++) points.push(cubicPoint(from, segment, i / count))
    }
    points.push(segment.to)
    from = segment.to
  }
  return points
}
