// The area alone: the checks themselves are a large room.
import { areaEdgeDistance, benchArea } from '../../core/checks/area.ts'
import { pointDistance, segmentNearest } from '../../core/geom/index.ts'
import type { Point } from '../../core/geom/types.ts'
import { keptFor } from '../../core/plan/index.ts'
import type { Plan, ReadingOf } from '../../core/plan/types.ts'

const areaOf = keptFor(benchArea)

/** The distance that a place on the benchwork keeps from its nearest edge, as a measurement; null: there is no wood under it. */
export function edgeReading({ benchworks }: Plan, at: Point): Extract<ReadingOf, { kind: 'distance' }> | null {
  if (Object.keys(benchworks).length === 0) return null
  const area = areaOf(benchworks)
  // Of no edges the distance is that of the farthest there is.
  if (area.edges.length === 0 || !(areaEdgeDistance(area, at) > 0)) return null
  let from: Point | null = null
  let leastMm = Infinity
  for (const ring of area.rings)
    for (const [i, b] of ring.entries()) {
      const a = ring.at(i - 1)
      if (a === undefined) continue
      const near = segmentNearest(a, b, at).at
      const farMm = pointDistance(near, at)
      if (farMm >= leastMm) continue
      leastMm = farMm
      from = near
    }
  return from === null ? null : { kind: 'distance', from, to: at }
}
