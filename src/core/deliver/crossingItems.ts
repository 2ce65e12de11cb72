import { pathMove } from '../geom/index.ts'
import type { Pose } from '../geom/types.ts'
import type { CrossingTrack } from '../track/types.ts'
import type { CrossingGeometry } from '../turnout/index.ts'
import { edgeAlong } from './edge.ts'
import type { PlanItem } from './planItem.ts'
import { pointCross, throwHoleItems } from './turnoutItems.ts'

/** A crossing set in the plan. */
export interface SetCrossing {
  readonly geometry: CrossingGeometry
  readonly pose: Pose
  readonly work: CrossingTrack
}

/** Theoretical points of all frogs, centrelines of the slips, the holes under their throw bars. */
export function crossingMarks({ geometry, pose }: SetCrossing): readonly PlanItem[] {
  return [
    ...geometry.frogs.flatMap(({ at }) => pointCross(pose, at)),
    ...geometry.routes
      .filter(({ name }) => name.startsWith('slip-'))
      .flatMap(({ centre }): readonly PlanItem[] => {
        const path = pathMove(centre, pose)
        const chain = edgeAlong(path, 0, path.lengthMm, 0)
        return chain ? [{ kind: 'stroke', layer: 'centreline', role: 'centreline', chain }] : []
      }),
    ...geometry.throwHoles.flatMap((hole) => throwHoleItems(hole, geometry.request, pose)),
  ]
}
