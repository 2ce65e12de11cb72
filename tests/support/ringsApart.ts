import type { Point } from '../../src/core/geom/index.ts'

/** How far two convex rings stand apart along the best of their own sides; below 0: they overlap. The separating axis theorem. */
export function ringsApart(a: readonly Point[], b: readonly Point[]): number {
  const axes = [a, b].flatMap((ring) =>
    ring.map((p, i) => {
      const q = ring[(i + 1) % ring.length] ?? p
      const length = Math.hypot(q.x - p.x, q.y - p.y)
      return { x: (q.y - p.y) / length, y: (p.x - q.x) / length }
    }),
  )
  return Math.max(
    ...axes.map(({ x, y }) => {
      const [of, other] = [a, b].map((ring) => ring.map((p) => p.x * x + p.y * y))
      return Math.max(Math.min(...(other ?? [])) - Math.max(...(of ?? [])), Math.min(...(of ?? [])) - Math.max(...(other ?? [])))
    }),
  )
}
