import { pathNearest, pathPoseAt, pointDistance } from '../geom/index.ts'
import type { Point } from '../geom/types.ts'
import type { Rail, WorkTrack } from '../track/types.ts'
import { planLine, type PlanItem } from './planItem.ts'

/** How far a gap's stroke reaches beyond the head on either side, as part of the rail's foot. */
const rimFeet = 0.8

/** A heavy stroke across the rail at each gap. */
export function gapItems({ gaps, rails }: Pick<WorkTrack, 'gaps' | 'rails'>): readonly PlanItem[] {
  return gaps.flatMap((gap) => {
    const rail = nearestRail(rails, gap.rail, gap.at)
    if (!rail) return []
    const pose = pathPoseAt(rail.gaugeLine.path, pathNearest(rail.gaugeLine.path, gap.at).stationMm)
    const [nx, ny] = [-Math.sin(pose.headingRad) * rail.headSide, Math.cos(pose.headingRad) * rail.headSide]
    const rim = rail.footWidthMm * rimFeet
    const end = (across: number): Point => ({ x: pose.x + across * nx, y: pose.y + across * ny })
    return [planLine('gaps', 'gap', end(-rim), end(rail.headWidthMm + rim))]
  })
}

function nearestRail(rails: readonly Rail[], role: Rail['role'], p: Point): Rail | null {
  let best: { readonly rail: Rail; readonly distance: number } | null = null
  for (const rail of rails) {
    if (rail.role !== role || rail.gaugeLine.path.elements.length === 0) continue
    const distance = pointDistance(pathNearest(rail.gaugeLine.path, p), p)
    if (best === null || distance < best.distance) best = { rail, distance }
  }
  return best?.rail ?? null
}
