import { bendGaps, benchArea } from '../../checks/index.ts'
import {
  bandKeepCreate,
  carsOnRoom,
  classCars,
  classVehicles,
  trainShapes,
  nearestGaps,
  standingCreate,
  standingLength,
  tracksSwept,
} from '../../clearance/index.ts'
import type { NearestGaps } from '../../clearance/index.ts'
import { recordFind } from '../../plan/index.ts'
import type { SettledFindings } from '../../checks/index.ts'
import type { Network, NetworkTrack } from '../../network/types.ts'
import type { Id } from '../../plan/types.ts'
import type { Derived } from '../../pipeline/types.ts'
import type { Report, TrackAchieved } from './types.ts'

/**
 * The report of a plan as data; tracks that are not solved have findings and no values.
 *
 * Exactness: that of the solved lines.
 */
export function planReport({ plan, network }: Derived, { open, silenced }: Pick<SettledFindings, 'open' | 'silenced'>): Report {
  const standingOn = standingCreate(network)
  const gaps = gapsOf(network)
  const tracks = [...network.tracks.values()].flatMap((track): readonly TrackAchieved[] => {
    const { id } = track.track
    const frogs = (network.turnoutsOn.get(id) ?? []).map(({ turnout }) => turnout.frog)
    const found = open.filter(({ table, record }) => table === 'tracks' && record === id).length
    const clearMm = mostOf(standingOn(id).map(standingLength))
    const carMm = mostOf(track.lineClass.cars.flatMap((car) => recordFind(plan, 'vehicles', car)?.overCouplersMm ?? []))
    const clearCars = clearMm === null || carMm === null ? null : carsOnRoom(clearMm, carMm)
    return trackAchieved(track, frogs, { clearMm, clearCars, gaps: gaps.get(id) ?? null, findings: found })
  })
  return { plan, findings: open, silenced, tracks }
}

/** What is left beside each track on which the cars of its class run. */
function gapsOf(network: Network): ReadonlyMap<Id, NearestGaps> {
  const { plan } = network
  const work = tracksSwept(network, ({ lineClass }) => classCars(classVehicles(lineClass, plan)).bodies, bandKeepCreate())
  let step = work.next()
  while (step.done !== true) step = work.next()
  const swept = step.value
  const shapes = trainShapes(plan, benchArea(plan.benchworks).rings)
  return new Map([...swept].map(([id, one]) => [id, nearestGaps(one, swept.values(), shapes, plan)]))
}

function trackAchieved(
  { track, lineClass, alignment }: NetworkTrack,
  frogs: readonly number[],
  known: Pick<TrackAchieved, 'clearMm' | 'clearCars' | 'gaps' | 'findings'>,
): readonly TrackAchieved[] {
  if (!alignment.ok) return []
  const { path, corners, isClosed } = alignment
  const curvature = Math.max(0, ...path.elements.flatMap(({ k0, k1 }) => [Math.abs(k0), Math.abs(k1)]))
  const easements = corners.flatMap(({ tsMm, scMm, csMm, stMm }) => [scMm - tsMm, stMm - csMm]).filter((mm) => mm > 0)
  const reverses = bendGaps({ path, isClosed }).filter(({ before, after }) => before.hand !== after.hand)
  return [
    {
      track: track.id,
      lineClass,
      lengthMm: path.lengthMm,
      leastRadiusMm: curvature === 0 ? null : 1 / curvature,
      shortestEasementMm: leastOf(easements),
      shortestReverseMm: leastOf(reverses.map(({ countedMm }) => countedMm)),
      leastFrog: leastOf(frogs),
      turnouts: frogs.length,
      ...known,
    },
  ]
}

function mostOf(values: readonly number[]): number | null {
  return values.length === 0 ? null : Math.max(...values)
}

function leastOf(values: readonly number[]): number | null {
  return values.length === 0 ? null : Math.min(...values)
}
