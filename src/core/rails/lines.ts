import { pathNearest, pathPoseAt, pathReverse, pathSlice, pathsJoined } from '../geom/index.ts'
import type { Point, Pose } from '../geom/types.ts'
import { linksBetween } from './marks.ts'
import { isJointed } from './plan.ts'
import type { Cut } from './runs.ts'
import type { JointZone, RailLine, RailPlace, RailRun } from './types.ts'

/** A run as it lies in the plan. zones: of its chain, in the chain's measure. */
export function lineOf(run: string, cut: Cut, zones: readonly JointZone[]): RailLine {
  const { fromMm, toMm, main } = cut
  const lengthMm = toMm - fromMm
  const parts = linksBetween(cut, fromMm, toMm).map((one) => {
    const { path } = one.link
    const line = one.isForward ? path : pathReverse(path)
    const [from, to] = [fromMm, toMm].map((at) => Math.min(Math.max(at - one.fromMm, 0), line.lengthMm))
    return pathSlice(line, from ?? 0, to ?? 0)
  })
  const own = zones.flatMap((zone): JointZone[] => {
    const [from, to] = [Math.max(0, zone.fromMm - fromMm), Math.min(lengthMm, zone.toMm - fromMm)]
    return from < to ? [{ rule: zone.rule, fromMm: from, toMm: to }] : []
  })
  return {
    run,
    path: pathsJoined(parts),
    headSide: main.isForward === (main.link.headSide === 1) ? 1 : -1,
    zones: isJointed(cut) ? own : [],
  }
}

/** The pose of a line at a place of its run; of a closed one past its end too. */
export function linePoseAt({ path }: RailLine, atMm: number): Pose {
  const beyond = atMm > path.lengthMm + 1e-6 ? atMm - path.lengthMm : atMm
  return pathPoseAt(path, Math.min(Math.max(beyond, 0), path.lengthMm))
}

export function lineNearest({ path }: RailLine, at: Point): { readonly atMm: number; readonly distanceMm: number } {
  const { stationMm, distanceMm } = pathNearest(path, at)
  return { atMm: stationMm, distanceMm }
}

/**
 * The place on a track that a place of a run is abreast of; null: of none.
 *
 * Exactness: between the ends of a stretch stations are taken evenly; on easements that is a few millimetres off.
 */
export function runPlaceNear({ stretches }: RailRun, atMm: number): RailPlace | null {
  const here = stretches.find(({ fromMm, toMm }) => atMm >= fromMm && atMm <= toMm)
  const [from, to] = [here?.from ?? null, here?.to ?? null]
  if (here === undefined || from === null || to === null || from.track !== to.track || from.rail !== to.rail) return null
  const part = (atMm - here.fromMm) / Math.max(here.toMm - here.fromMm, 1e-9)
  return { ...from, stationMm: from.stationMm + part * (to.stationMm - from.stationMm) }
}
