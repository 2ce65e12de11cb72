import { pathPoseAt } from '../geom/index.ts'
import { areaEdgeDistance } from './area.ts'
import type { BenchArea } from './area.ts'
import { breachFinding } from './breachFinding.ts'
import { breachesAlong, breachesRound } from './breaches.ts'
import type { Run } from './run.ts'
import { isSquareEnd } from './squareEnd.ts'
import type { Finding } from './types.ts'

/** Past the edge by no more than this is at the edge: ten times the rounding of the benchwork's union. */
const EDGE_ROUNDING_MM = 1e-3

/** Shortest step along the line, mm. */
const STEP_MM = 2

/**
 * Stretches over which the foot of the roadbed lies past the edge of the benchwork. Only where the railway's margin asks for less than the
 * roadbed is wide: else a line that keeps its margin keeps its roadbed on the wood as well. Silent of an end that runs out square to the edge.
 *
 * Measured:   from the centreline to the edge; the limit is half the roadbed's width at its foot, top and shoulder.
 * Exactness:  as of benchworkEdge.
 */
export function roadbedEdge(run: Run, area: BenchArea): readonly Finding[] {
  const { path, railway, lineClass, roadbedMm: footMm } = run
  if (footMm === 0 || area.edges.length === 0) return []
  if (railway.edgeMarginMm >= footMm) return []
  const distanceAt = (stationMm: number): number => areaEdgeDistance(area, pathPoseAt(path, stationMm))
  const found = breachesAlong(0, path.lengthMm, STEP_MM, (stationMm) => {
    const slackMm = distanceAt(stationMm) - footMm + EDGE_ROUNDING_MM
    return { slackMm, freeMm: Math.abs(slackMm) }
  })
  const breaches = (run.isClosed ? breachesRound(found, path.lengthMm) : found).filter((breach) => !isSquareEnd(run, breach, distanceAt))
  return breaches.map((breach, i): Finding => {
    const at = pathPoseAt(path, breach.worstMm)
    return breachFinding(run, breach, at, {
      id: `roadbed-edge:${run.key}:${i}`,
      rule: 'roadbed-edge',
      severity: 'warning',
      measured: areaEdgeDistance(area, at),
      limit: footMm,
      source: `class:${lineClass.id}`,
    })
  })
}
