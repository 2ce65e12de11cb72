import { boxesWithin, boxOfPoints } from '../../geom/index.ts'
import type { Hatch, Plan } from '../../plan/types.ts'
import type { BenchArea } from '../area.ts'
import { keptFor, keptForPairs, keptOn } from '../../plan/index.ts'
import type { Run } from '../run.ts'
import type { Finding } from '../types.ts'
import { aisle } from './aisle.ts'
import { benchOverlap, standingOf } from './benchOverlap.ts'
import { doorSwing } from './doorSwing.ts'
import { planFloor } from './floor.ts'
import type { Floor } from './floor.ts'
import { hatchCure, hatchesGrown, hatchOffBench, hatchSize, hatchUnderTrack } from './hatch.ts'
import { reach, standsOf } from './reach.ts'
import { ringsSolid } from './rings.ts'
import type { Rings } from './rings.ts'
import { roomSolids } from './solids.ts'
import type { Solid } from './solids.ts'

export interface RoomInput {
  readonly plan: Plan
  readonly runs: readonly Run[]
  /** What all benchwork covers; null: there is none. */
  readonly area: BenchArea | null
}

/**
 * The checks of room and benchwork, as a function that remembers what it found. Floor and solids are made anew only when something
 * of the room changes; a track that is moved asks for its own reach alone.
 */
export function roomChecksCreate(): (input: RoomInput) => readonly Finding[] {
  const solidsOf = keptOn<Plan['benchworks'], readonly Solid[]>()
  const floorOf = keptOn<Plan['benchworks'], Floor>()
  const filledOf = keptFor((benchworks: Plan['benchworks']): Rings => ringsSolid(Object.values(benchworks).map(({ outline }) => outline)))
  const standsFor = keptFor(standsOf)
  const standingFor = keptFor(standingOf)
  const reachOf = keptFor(reach)
  const aisleOf = keptFor(aisle)
  const doorsOf = keptOn<Plan['openings'], readonly Finding[]>()
  const sizeOf = keptFor(hatchSize)
  const grownOf = keptFor(hatchesGrown)
  const curedOf = keptOn<Finding, Finding>()
  const offBenchOf = keptFor(hatchOffBench)
  const underOf = keptForPairs(hatchUnderTrack)
  const overlapOf = keptFor(benchOverlap)

  return ({ plan, runs, area }) => {
    const { walls, obstacles, openings, railway } = plan
    const solids = solidsOf(plan.benchworks, [walls, obstacles], () => roomSolids(plan))
    const floor =
      area === null
        ? null
        : floorOf(plan.benchworks, [walls, obstacles, openings, railway.aisleMm, railway.hatchMm], () => planFloor(plan, area))
    const hatches = Object.values(plan.hatches)
    const stands = floor === null ? null : standsFor(floor, plan.hatches)
    const withCure = (finding: Finding, hatch: Hatch): Finding => {
      const grown = grownOf(hatch, solids, railway.hatchMm)
      const box = boxOfPoints(grown.flatMap(({ outline }) => outline))
      const near = box === null ? [] : runs.filter((run) => boxesWithin(box, run.box, run.railway.tieLengthMm))
      return curedOf(finding, [hatch, ...near], () => ({ ...finding, cure: hatchCure(hatch, grown, near) }))
    }
    return [
      ...(stands === null ? [] : runs.flatMap((run) => reachOf(run, stands))),
      ...(floor === null ? [] : aisleOf(floor, solids, railway.aisleMm)),
      ...doorsOf(openings, [solids], () => Object.values(openings).flatMap((opening) => doorSwing(opening, plan, solids))),
      ...hatches.flatMap((hatch) => sizeOf(hatch, solids, railway.hatchMm).map((finding) => withCure(finding, hatch))),
      ...hatches.flatMap((hatch) => [...offBenchOf(hatch, filledOf(plan.benchworks)), ...runs.flatMap((run) => underOf(run, hatch))]),
      ...Object.values(plan.benchworks).flatMap((bench) => overlapOf(bench, standingFor(solids))),
    ]
  }
}
