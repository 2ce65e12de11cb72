// The area alone: the checks themselves are a large room.
import { benchArea } from '../../core/checks/area.ts'
import { ringContains, ringNearest } from '../../core/geom/index.ts'
import type { Point } from '../../core/geom/types.ts'
import { keptFor } from '../../core/plan/index.ts'
import type { Plan, ReadingOf } from '../../core/plan/types.ts'

const areaOf = keptFor(benchArea)

/** The distance that a place on the benchwork keeps from its nearest edge, as a measurement; null: there is no wood under it. */
export function edgeReading({ benchworks }: Plan, at: Point): Extract<ReadingOf, { kind: 'distance' }> | null {
  const { rings } = areaOf(benchworks)
  if (rings.filter((ring) => ringContains(ring, at)).length % 2 === 0) return null
  const [near] = rings.flatMap((ring) => ringNearest(ring, at) ?? []).toSorted((a, b) => a.distanceMm - b.distanceMm)
  return near === undefined || near.distanceMm === 0 ? null : { kind: 'distance', from: near.at, to: at }
}
