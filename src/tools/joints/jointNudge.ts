import type { PlanCommand } from '../../core/edit/types.ts'
import { pathPoseAt } from '../../core/geom/index.ts'
import type { Point } from '../../core/geom/types.ts'
import { trackPath } from '../../core/network/index.ts'
import type { Network } from '../../core/network/types.ts'
import { recordFind } from '../../core/plan/index.ts'
import type { Id, Plan } from '../../core/plan/types.ts'
import { alongHeading } from '../select/grip.ts'

/* Apart from the drag: the keys need it wherever the select tool is, and rails come only with their stage. */

/** An arrow key's step of an own joint, along its track. Null: its track has no line. */
export function jointNudge(id: Id, step: Point, plan: Plan, network: Network): PlanCommand | null {
  const joint = recordFind(plan, 'railJoints', id)
  const path = joint === null ? null : trackPath(network, joint.track)
  if (joint === null || path === null) return null
  const { headingRad } = pathPoseAt(path, Math.min(Math.max(joint.stationMm, 0), path.lengthMm))
  return { kind: 'railJoint.set', id, change: { stationMm: joint.stationMm + alongHeading(headingRad, step) } }
}
