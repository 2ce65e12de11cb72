import { boxOfPoints } from '../core/geom/index.ts'
import type { Box, Point } from '../core/geom/types.ts'
import type { Plan } from '../core/plan/types.ts'
import type { Stores } from './context.ts'

/** The whole of what is drawn; null for an empty room. */
function planBoxOf(plan: Plan, tracks: Iterable<readonly Point[]>): Box | null {
  const points: Point[] = []
  for (const benchwork of Object.values(plan.benchworks)) points.push(...benchwork.outline)
  // A wall is thick to one side of its face; as much to the other does no harm.
  for (const { points: face, thicknessMm } of Object.values(plan.walls)) {
    for (const { x, y } of face) points.push({ x: x - thicknessMm, y: y - thicknessMm }, { x: x + thicknessMm, y: y + thicknessMm })
  }
  for (const obstacle of Object.values(plan.obstacles)) points.push(...obstacle.outline)
  for (const polygon of tracks) points.push(...polygon)
  return boxOfPoints(points)
}

/** planBoxOf for the plan at hand. */
export function planBoxNow(stores: Stores): Box | null {
  const polygons: (readonly Point[])[] = []
  for (const track of stores.derived.getState().derived.network.tracks.values()) polygons.push(track.alignment.polygon)
  return planBoxOf(stores.plan.getState().plan, polygons)
}
