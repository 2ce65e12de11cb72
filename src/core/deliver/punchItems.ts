import type { CornerPlace } from '../alignment/types.ts'
import { boxContains, pathPoseAt, poseToPlan } from '../geom/index.ts'
import type { Pose } from '../geom/types.ts'
import type { CrossingGeometry, TurnoutGeometry } from '../turnout/index.ts'
import { chainOfCircle } from './chain.ts'
import type { FreeSpace } from './freeSpace.ts'
import { planLine, type PlanItem } from './planItem.ts'
import { stationsMarked, type MarkedLine } from './stationItems.ts'
import type { SheetOptions } from './types.ts'

/** The ring is seen beside what it lies on; the cross in it is pricked. */
const RING_MM = 1.1
const ARM_MM = 0.6

/** Marks to prick through the paper into the board: stations, curve points and, of special work, frog points, points and throw holes. */
export function punchItems(
  lines: readonly { readonly line: MarkedLine; readonly corners: readonly CornerPlace[] }[],
  works: readonly { readonly geometry: TurnoutGeometry | CrossingGeometry; readonly pose: Pose }[],
  units: SheetOptions['units'],
  space: FreeSpace,
): readonly PlanItem[] {
  const along = lines.flatMap(({ line, corners }) => {
    const ends = corners.flatMap(({ tsMm, scMm, csMm, stMm }) => [...new Set([tsMm, scMm, csMm, stMm])])
    return [...stationsMarked(line, units).map(({ stationMm }) => stationMm), ...ends].map((station) => pathPoseAt(line.path, station))
  })
  const built = works.flatMap(({ geometry, pose }) =>
    [...geometry.frogs, ...geometry.throwHoles].map(({ at }): Pose => ({ ...poseToPlan(pose, at), headingRad: pose.headingRad })),
  )
  return [...along, ...built].filter((pose) => boxContains(space.within, pose)).flatMap(punchMark)
}

function punchMark(pose: Pose): readonly PlanItem[] {
  const arm = (x: number, y: number): PlanItem => planLine('punch', 'punch', poseToPlan(pose, { x: -x, y: -y }), poseToPlan(pose, { x, y }))
  return [{ kind: 'stroke', layer: 'punch', role: 'punch', chain: chainOfCircle(pose, RING_MM) }, arm(ARM_MM, 0), arm(0, ARM_MM)]
}
