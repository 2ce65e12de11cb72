import { swing } from '../vehicles/index.ts'
import type { Run } from './run.ts'

/**
 * Room that a run asks between its centreline and half way to a neighbour on one side, mm: half the car's width, its swing to
 * that side at the local curvature, and half the running clearance. Without a car: half the class's track centres.
 *
 * Units:      curvature 1/mm, + left; side +1: the neighbour lies to the left, -1: to the right.
 * Exactness:  that of `swing`: exact on an arc. On an easement the local curvature stands for the car's true place.
 *             On a curve too sharp for the car to stand on, the swing on the sharpest one it can stand on.
 */
export function runDemand(run: Run, curvature: number, side: 1 | -1): number {
  const { car, railway, lineClass } = run
  if (car === null) return lineClass.trackCentresMm / 2
  const straightMm = car.bodyWidthMm / 2 + railway.runningClearanceMm / 2
  if (curvature === 0) return straightMm
  const result = swing(1 / Math.abs(curvature), car)
  const standing = result.ok || result.problem.kind !== 'radiusTooSmall' ? result : swing(result.problem.leastMm * BARELY_WIDER, car)
  if (!standing.ok) return straightMm
  const isInside = curvature * side > 0
  return straightMm + (isInside ? standing.swing.insideMm : Math.max(0, standing.swing.outsideMm))
}

const BARELY_WIDER = 1 + 1e-9

/** The most that a run asks anywhere, on either side. Swing grows with curvature, so its sharpest place tells. */
export function runDemandMost(run: Run): number {
  return Math.max(runDemand(run, run.mostCurvature, 1), runDemand(run, run.mostCurvature, -1))
}
