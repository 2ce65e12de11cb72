import { poseToPlan } from '../geom/index.ts'
import type { NetworkTurnout } from '../network/types.ts'
import { areaEdgeDistance } from './area.ts'
import type { BenchArea } from './area.ts'
import type { Finding } from './types.ts'
import { turnoutWork, workFinding } from './workFinding.ts'

/** A tie that ends on the very edge lies on the benchwork: ten times the rounding of its union. */
const roundingMm = 1e-3

/**
 * Ties of a turnout that reach past the edge of the benchwork: head blocks stand out by a tie's length on one side, where the track's own
 * centreline keeps its margin. Measured is the distance of the farthest tie end to the edge, negative beyond it.
 */
export function tiesOverEdge({ turnout, result }: NetworkTurnout, area: BenchArea): readonly Finding[] {
  if (!result.ok || area.edges.length === 0) return []
  const { pose, geometry } = result
  const ends = geometry.ties.flatMap(({ from, to }, tie) =>
    [from, to].map((end) => {
      const at = poseToPlan(pose, end)
      return { tie, at, distanceMm: areaEdgeDistance(area, at) }
    }),
  )
  const over = ends.filter(({ distanceMm }) => distanceMm < -roundingMm)
  const [worst] = over.toSorted((a, b) => a.distanceMm - b.distanceMm)
  if (worst === undefined) return []
  return [
    workFinding(turnoutWork(turnout), worst.at, {
      id: `turnout-place:${turnout.id}:edge`,
      rule: 'turnout-place',
      severity: 'warning',
      measured: worst.distanceMm,
      limit: 0,
      problem: { kind: 'tiesOverEdge', ties: new Set(over.map(({ tie }) => tie)).size },
    }),
  ]
}
