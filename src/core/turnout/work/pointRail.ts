import { pathCurvatureAt, pathNearest, pathPoseAt, pathSlice, rootBrent } from '../../geom/index.ts'
import type { Path } from '../../geom/types.ts'
import type { HeadWidth, TurnoutRail } from '../types.ts'
import { railOf } from './railOf.ts'
import type { GaugeLine, PointRail, WorkMeasures } from './types.ts'

/**
 * A planed point that bends away from its stock rail is told in this many even tapers; against the true curve they are out
 * by a sixty-fourth of a rail head, a hundredth of a millimetre in HO.
 */
const curvedTapers = 4
const stationToleranceMm = 1e-9
const curvatureRounding = 1e-12

/** A point rail from its tip to its heel, planed to lie against the line beside it: where the gap is narrower than a head, the head is as wide as the gap. */
export function pointRailLay(line: GaugeLine, point: PointRail, against: Path, measures: WorkMeasures): TurnoutRail {
  const path = pathSlice(line.path, 0, Math.min(point.lengthMm, line.path.lengthMm))
  return railOf(measures, 'point', line, path, line.side, pointTaper(path, against, measures.railHeadMm))
}

function pointTaper(path: Path, against: Path, railHeadMm: number): readonly HeadWidth[] {
  const gap = (alongMm: number): number => pathNearest(against, pathPoseAt(path, alongMm)).distanceMm
  const head = Math.min(railHeadMm, gap(path.lengthMm))
  const root = rootBrent((along) => gap(along) - head, 0, path.lengthMm, stationToleranceMm)
  const full = root.ok ? root.x : path.lengthMm
  const tip = pathNearest(against, pathPoseAt(path, 0)).stationMm
  const bendsAway = Math.abs(pathCurvatureAt(path, 0) - pathCurvatureAt(against, tip)) > curvatureRounding
  const count = bendsAway ? curvedTapers : 1
  return Array.from({ length: count + 1 }, (_, i) => {
    const alongMm = (full * i) / count
    return { alongMm, headMm: i === count ? head : Math.min(gap(alongMm), head) }
  })
}
