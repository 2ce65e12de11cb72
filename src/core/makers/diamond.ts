import { pathFromElements } from '../geom/index.ts'
import { crossingRequest } from '../network/index.ts'
import type { LineClass, Railway } from '../plan/types.ts'
import { crossingSolve } from '../turnout/index.ts'
import type { CrossingTrack } from '../turnout/index.ts'

/** Straights reach so many gauges over the tangent of half their angle: more than any diamond takes. */
const reachGauges = 4

/** How far a diamond of two straights reaches along each from where they cross, with its frogs' heels; null: there is none at this angle. mm, rad. */
export function diamondReach(railway: Railway, { tieSpacingMm }: LineClass, angleRad: number): number | null {
  const atMm = (reachGauges * railway.gaugeMm) / Math.tan(Math.min(angleRad, Math.PI / 2) / 2)
  const straight = (headingRad: number): CrossingTrack => ({
    path: pathFromElements({ x: -atMm * Math.cos(headingRad), y: -atMm * Math.sin(headingRad), headingRad }, [
      { lengthMm: 2 * atMm, k0: 0, k1: 0 },
    ]),
    atMm,
  })
  const solved = crossingSolve(crossingRequest(railway, tieSpacingMm, null, straight(0), straight(angleRad)))
  return solved.ok ? Math.max(solved.crossing.extents.first.toMm, solved.crossing.extents.second.toMm) : null
}
