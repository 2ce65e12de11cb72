import type { Point } from '../../geom/types.ts'

/**
 * Points in the order of the line that they lie on, as far as nearness tells: begun at the one farthest from their middle, each time on
 * to the nearest that is left.
 *
 * Units:      mm.
 * Domain:     any finite points; the work grows with their square (10,000: some tenths of a second).
 * Exactness:  right where neighbours along the line are nearer than any others; a line that passes itself closely comes out mixed.
 * Outcome:    the indices in their new order.
 * Source:     nearest neighbour; common practice, no source.
 */
export function pointsOrder(points: readonly Point[]): readonly number[] {
  const middle = { x: mean(points.map(({ x }) => x)), y: mean(points.map(({ y }) => y)) }
  const left = new Set(points.keys())
  const order: number[] = []
  let next = farthest(points, middle)
  while (next !== null) {
    left.delete(next)
    order.push(next)
    next = nearest(points, left, points[next] ?? middle)
  }
  return order
}

const mean = (values: readonly number[]): number => values.reduce((sum, value) => sum + value / values.length, 0)

const squared = (a: Point, b: Point): number => (a.x - b.x) ** 2 + (a.y - b.y) ** 2

function farthest(points: readonly Point[], from: Point): number | null {
  let found: { readonly index: number; readonly away: number } | null = null
  for (const [index, point] of points.entries()) {
    const away = squared(point, from)
    if (found === null || away > found.away) found = { index, away }
  }
  return found?.index ?? null
}

function nearest(points: readonly Point[], among: ReadonlySet<number>, from: Point): number | null {
  let best: number | null = null
  let least = Infinity
  for (const index of among) {
    const point = points[index]
    const away = point === undefined ? Infinity : squared(point, from)
    if (away < least) {
      least = away
      best = index
    }
  }
  return best
}
