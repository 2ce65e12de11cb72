import type { Point } from '../../geom/types.ts'

/** Lengths of the three tangents beyond what they must have. */
export type Straights = readonly [number, number, number]

/** Directions nearer to one line than this have no crossing to work with. */
const ONE_LINE = 1e-9

const cross = (a: Point, b: Point): number => a.x * b.y - a.y * b.x

/**
 * The shortest way to a point along two or three given directions, never backwards.
 *
 * A shortest way needs no more than two of them, so each one and each pair is tried.
 *
 * Units:      mm; directions in rad, null: not to be used.
 * Exactness:  up to rounding; the point is met within `roundingMm`, and less than that backwards counts as nothing.
 * Outcome:    null when the point does not lie in the cone of the directions.
 */
export function straightsShortest(to: Point, directions: readonly (number | null)[], roundingMm: number): Straights | null {
  const units = directions.map((rad) => (rad === null ? null : { x: Math.cos(rad), y: Math.sin(rad) }))
  let best: Straights | null = null
  let bestMm = Infinity
  const take = (lengths: readonly (readonly [number, number])[]): void => {
    if (lengths.some(([, mm]) => !(mm >= -roundingMm))) return
    const straights: [number, number, number] = [0, 0, 0]
    for (const [index, mm] of lengths) straights[index] = Math.max(0, mm)
    const sumMm = straights[0] + straights[1] + straights[2]
    if (sumMm < bestMm) {
      best = straights
      bestMm = sumMm
    }
  }
  for (const [i, u] of units.entries()) {
    if (u === null) continue
    if (Math.abs(cross(u, to)) <= roundingMm) take([[i, u.x * to.x + u.y * to.y]])
    for (const [j, v] of units.entries()) {
      if (v === null || j <= i) continue
      const across = cross(u, v)
      if (Math.abs(across) < ONE_LINE) continue
      take([
        [i, cross(to, v) / across],
        [j, cross(u, to) / across],
      ])
    }
  }
  return best
}
