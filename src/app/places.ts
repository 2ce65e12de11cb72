import { boxOfPoints, pathPoseAt } from '../core/geom/index.ts'
import type { Box, Path, Point } from '../core/geom/types.ts'
import type { Id, TableName } from '../core/plan/types.ts'
import type { Stores } from './context.ts'

/** Half of what is shown about a thing that is no more than a place, mm. */
const aboutMm = 150

const boxAbout = ({ x, y }: Point): Box => ({ minX: x - aboutMm, minY: y - aboutMm, maxX: x + aboutMm, maxY: y + aboutMm })

/** Points that a track surely passes or turns about: enough to frame it. */
function trackPoints(stores: Stores, id: Id): readonly Point[] {
  const solved = stores.derived.getState().derived.network.tracks.get(id)
  return solved === undefined ? [] : solved.alignment.polygon
}

/** Where a record lies in the plan; null for what has no place (a line class, a car). */
export function planBoxOfRecord(stores: Stores, table: TableName, id: Id): Box | null {
  const { plan } = stores.plan.getState()
  switch (table) {
    case 'materials':
    case 'stocks':
    case 'ticks':
    case 'lineClasses':
    case 'vehicles':
    case 'locks':
    case 'silences':
      return null
    case 'guides': {
      const guide = plan.guides[id]
      return guide === undefined ? null : boxAbout(guide.at)
    }
    case 'readings': {
      const of = plan.readings[id]?.of
      if (of === undefined) return null
      if ('track' in of) return boxOfPoints(trackPoints(stores, of.track))
      return boxOfPoints([of.from, of.to, ...(of.kind === 'angle' ? [of.at] : [])])
    }
    case 'underlays':
      return boxOfPoints(plan.underlays[id]?.places.map(({ at }) => at) ?? [])
    case 'walls':
      return boxOfPoints(plan.walls[id]?.points ?? [])
    case 'obstacles':
      return boxOfPoints(plan.obstacles[id]?.outline ?? [])
    case 'benchworks':
      return boxOfPoints(plan.benchworks[id]?.outline ?? [])
    case 'openings': {
      const opening = plan.openings[id]
      return opening === undefined ? null : boxOfPoints(plan.walls[opening.wall]?.points ?? [])
    }
    case 'hatches':
      return boxOfPoints(plan.hatches[id]?.outline ?? [])
    case 'joists': {
      const joist = plan.joists[id]
      return joist === undefined ? null : boxOfPoints([joist.from, joist.to])
    }
    case 'railJoints': {
      const joint = plan.railJoints[id]
      const alignment = stores.derived.getState().derived.network.tracks.get(joint?.track ?? '')?.alignment
      if (joint === undefined || alignment?.ok !== true) return null
      const { path } = alignment
      return boxAbout(pathPoseAt(path, Math.min(Math.max(joint.stationMm, 0), path.lengthMm)))
    }
    case 'portals': {
      const portal = plan.portals[id]
      return portal === undefined ? null : boxOfPoints(trackPoints(stores, portal.track))
    }
    case 'tracks':
      return boxOfPoints(trackPoints(stores, id))
    case 'makers':
      return boxOfPoints((plan.makers[id]?.made.tracks ?? []).flatMap((track) => trackPoints(stores, track)))
    case 'crossings': {
      const crossing = stores.derived.getState().derived.network.crossings.get(id)
      return crossing === undefined ? null : boxAbout(crossing.pose)
    }
    case 'turnouts': {
      const placed = stores.derived.getState().derived.network.turnouts.get(id)
      const pose = placed === undefined ? null : placed.result.pose
      return pose === null ? null : boxAbout(pose)
    }
  }
}

/** The longest stretch of zero curvature on a path; null when it has none. */
export function longestStraight(path: Path): { readonly fromMm: number; readonly toMm: number } | null {
  let best: { fromMm: number; toMm: number } | null = null
  for (const element of path.elements) {
    if (element.k0 !== 0 || element.k1 !== 0) continue
    const from = element.startStationMm
    const to = from + element.lengthMm
    if (best === null || to - from > best.toMm - best.fromMm) best = { fromMm: from, toMm: to }
  }
  return best
}
