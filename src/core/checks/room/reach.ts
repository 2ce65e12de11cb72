import { boxContains, pathPoseAt } from '../../geom/index.ts'
import type { Point } from '../../geom/types.ts'
import type { Hatch, Table } from '../../plan/types.ts'
import { areaEdgeDistance, areaOfRings } from '../area.ts'
import type { BenchArea } from '../area.ts'
import { breachesAlong, breachesRound } from '../breaches.ts'
import type { Run } from '../run.ts'
import type { Finding } from '../types.ts'
import type { Floor } from './floor.ts'

/** Where people stand who reach for a track. */
export interface Stands {
  readonly floor: Floor
  readonly hatches: readonly BenchArea[]
}

/** Shortest step along the line, mm: a hand does not tell it. */
const STEP_MM = 10

/** The floor's rounded corners are chords: so much nearer still counts as within reach, mm. */
const REACH_ROUNDING_MM = 0.1

export function standsOf(floor: Floor, hatches: Table<Hatch>): Stands {
  return {
    floor,
    hatches: Object.values(hatches).flatMap(({ outline }) => (outline.length < 3 ? [] : [areaOfRings([outline])])),
  }
}

/** How far a place lies from where a person can stand, straight over whatever is between, mm; Infinity: one can stand nowhere. */
export function reachTo({ floor: { middles, standMm, openBox }, hatches }: Stands, at: Point): number {
  if (openBox !== null && !boxContains(openBox, at)) return 0
  let least = middles.edges.length === 0 ? Infinity : Math.max(0, -areaEdgeDistance(middles, at) - standMm / 2)
  for (const hatch of hatches) least = Math.min(least, Math.max(0, -areaEdgeDistance(hatch, at)))
  return least
}

/**
 * Stretches of a run farther than the railway's reach from the nearest floor or hatch.
 *
 * Exactness:  distance 0.1 mm, ends of a stretch 1e-3 mm; a stretch shorter than 10 mm may be missed. Walls between are not seen.
 * Source:     common practice, no source: 24 in to work on track, 30 in to reach a car.
 */
export function reach(run: Run, stands: Stands): readonly Finding[] {
  const { path, railway } = run
  const limitMm = railway.reachMm
  const common = {
    rule: 'reach',
    severity: 'warning',
    stage: 'room',
    table: run.table,
    record: run.record,
    otherRecord: null,
    corner: null,
    limit: limitMm,
    unit: 'mm',
    source: 'railway',
    problem: null,
    cure: null,
  } as const
  const isNowhere = stands.floor.openBox === null && stands.floor.middles.edges.length === 0 && stands.hatches.length === 0
  if (isNowhere) {
    const { x, y } = pathPoseAt(path, 0)
    const stationToMm = run.stationAt(path.lengthMm)
    return [{ ...common, id: `reach:${run.key}:0`, stationFromMm: run.stationAt(0), stationToMm, x, y, measured: null }]
  }
  const found = breachesAlong(0, path.lengthMm, STEP_MM, (stationMm) => {
    const slackMm = limitMm + REACH_ROUNDING_MM - reachTo(stands, pathPoseAt(path, stationMm))
    return { slackMm, freeMm: Math.abs(slackMm) }
  })
  const breaches = run.isClosed ? breachesRound(found, path.lengthMm) : found
  return breaches.map((breach, i): Finding => {
    const { x, y } = pathPoseAt(path, breach.worstMm)
    return {
      ...common,
      id: `reach:${run.key}:${i}`,
      stationFromMm: run.stationAt(breach.fromMm),
      stationToMm: run.stationAt(breach.toMm),
      x,
      y,
      measured: reachTo(stands, { x, y }),
    }
  })
}
