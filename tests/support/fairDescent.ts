import { traverseSolve } from '../../src/core/alignment/index.ts'
import type { FairRequest } from '../../src/core/alignment/index.ts'
import type { Traverse, TraverseCorner } from '../../src/core/alignment/types.ts'
import { pathIntrusion } from './fairing.ts'

/** Steps that the descent tries, mm: coarse to fine. */
const stepsMm = [64, 32, 16, 8, 4, 2, 1]
const directions = [
  [1, 0],
  [-1, 0],
  [0, 1],
  [0, -1],
] as const

/**
 * The plain way, kept as a baseline: all curves get one radius, as large as the corridor allows (halving), and one PI at a time is
 * shoved along x or y as long as that makes it larger. Requests without easements and with free ends or legs.
 */
export function fairByDescent(request: FairRequest): number {
  let corners: readonly TraverseCorner[] = request.corners.map(({ x, y, radiusMm }, i) => ({
    id: `c${i}`,
    x,
    y,
    radiusMm,
    easementInMm: 0,
    easementOutMm: 0,
  }))
  const fits = (traverse: Traverse): boolean => {
    const alignment = traverseSolve(traverse)
    return alignment.ok && pathIntrusion(alignment.path, request.corridor.chains, 8) <= 0
  }
  const withRadius = (at: readonly TraverseCorner[], radiusMm: number): Traverse => ({
    start: request.start,
    end: request.end,
    corners: at.map((corner) => ({ ...corner, radiusMm })),
  })
  let best = Math.min(...request.corners.map(({ radiusMm }) => radiusMm ?? 0))
  const grown = (at: readonly TraverseCorner[]): number => {
    if (!fits(withRadius(at, best * 1.001))) return 0
    let low = best * 1.001
    let high = best * 2
    if (fits(withRadius(at, high))) return high
    while (high / low > 1.0005) {
      const middle = (low + high) / 2
      if (fits(withRadius(at, middle))) low = middle
      else high = middle
    }
    return low
  }
  best = Math.max(best, grown(corners))
  for (const stepMm of stepsMm) {
    for (let isBetter = true; isBetter; ) {
      isBetter = false
      for (const i of corners.keys()) {
        for (const [dx, dy] of directions) {
          const moved = corners.map((corner, n) => (n === i ? { ...corner, x: corner.x + dx * stepMm, y: corner.y + dy * stepMm } : corner))
          const radiusMm = grown(moved)
          if (radiusMm <= best) continue
          best = radiusMm
          corners = moved
          isBetter = true
        }
      }
    }
  }
  return best
}
