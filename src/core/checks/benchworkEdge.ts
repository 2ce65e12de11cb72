import { pathPoseAt } from '../geom/index.ts'
import { areaEdgeDistance } from './area.ts'
import type { BenchArea } from './area.ts'
import { breachFinding } from './breachFinding.ts'
import { breachesAlong, breachesRound } from './breaches.ts'
import type { Run } from './run.ts'
import { isSquareEnd } from './squareEnd.ts'
import type { Finding } from './types.ts'

/** Nearer than the margin by no more than this still keeps it: ten times the rounding of the benchwork's union. */
const MARGIN_ROUNDING_MM = 1e-3

/** Shortest step along the line, mm; a corner of the edge that pokes in less than this wide would be felt by its neighbours. */
const STEP_MM = 2

/** A run that starts near the edge because its host does has to come this much nearer itself to be told. */
const WORSE_MM = 0.5

/**
 * Stretches of a run whose centreline lies off the benchwork (an error, measured negative) or nearer to its edge than the
 * railway's margin (a warning). Silent of a track's end on the benchwork that runs out square to its edge.
 *
 * Exactness:  distance to the true edge, 1e-3 mm; ends of a stretch 1e-3 mm. Where a run leaves its host within the margin,
 *             that is the host's finding as long as the run gets no nearer to the edge.
 */
export function benchworkEdge(run: Run, area: BenchArea): readonly Finding[] {
  if (area.edges.length === 0) return []
  const { path, railway } = run
  const marginMm = railway.edgeMarginMm
  const distanceAt = (stationMm: number): number => areaEdgeDistance(area, pathPoseAt(path, stationMm))
  const slackAt = (stationMm: number): number => distanceAt(stationMm) - marginMm + MARGIN_ROUNDING_MM
  // The distance to the edge cannot change faster than the line runs, so a large slack is a free way.
  const found = breachesAlong(0, path.lengthMm, STEP_MM, (stationMm) => {
    const slackMm = slackAt(stationMm)
    return { slackMm, freeMm: Math.abs(slackMm) }
  })
  const breaches = (run.isClosed ? breachesRound(found, path.lengthMm) : found).filter((breach) => {
    const { fromMm, toMm, worstSlackMm } = breach
    if (isSquareEnd(run, breach, distanceAt)) return false
    const isHosts = (run.startTurnout !== null && fromMm === 0) || (run.endTurnout !== null && toMm === path.lengthMm)
    if (!isHosts) return true
    const atHost = Math.min(fromMm === 0 ? slackAt(0) : 0, toMm === path.lengthMm ? slackAt(path.lengthMm) : 0)
    return worstSlackMm < atHost - WORSE_MM
  })
  return breaches.map((breach, i): Finding => {
    const at = pathPoseAt(path, breach.worstMm)
    const distanceMm = areaEdgeDistance(area, at)
    return breachFinding(run, breach, at, {
      id: `benchwork-edge:${run.key}:${i}`,
      rule: 'benchwork-edge',
      // A line along the very edge is on it, to whichever side rounding falls.
      severity: distanceMm < -MARGIN_ROUNDING_MM ? 'error' : 'warning',
      measured: distanceMm,
      limit: marginMm,
    })
  })
}
