import type { CornerPlace } from '../alignment/types.ts'
import { pathPoseAt } from '../geom/index.ts'
import type { Pose } from '../geom/types.ts'
import type { NetworkTrack } from '../network/types.ts'
import { cureCorner, cureTried, legPosesOf } from './cornerCure.ts'
import type { CornerCure } from './cornerCure.ts'
import { cornerFinding } from './cornerFinding.ts'
import type { Finding } from './types.ts'

/** A curve this much under the limit still keeps it: rounding, a thousandth of a micrometre. */
const LENGTH_ROUNDING_MM = 1e-6

/** Cures are rounded up to this, so that a typed value shows all its digits. */
const CURE_STEP_MM = 0.1

/** A radius is made wider in so many steps; each leaves a small part of what is wanting. */
const TRIALS = 6

/**
 * Curves that are shorter, with their easements, than the class wants them: a kink to the eye, and a jolt to what runs over it. A warning.
 *
 * Units:      mm along the curve, from TS to ST.
 * Cure:       a wider radius with which the curve is as long as it should be, where it fits in.
 */
export function shortCurves(networkTrack: NetworkTrack, startLeg: Pose | null, endLeg: Pose | null): readonly Finding[] {
  const { lineClass, alignment } = networkTrack
  const limit = lineClass.minCurveMm
  if (!alignment.ok || !(limit > 0)) return []
  return alignment.corners.flatMap((place): Finding[] => {
    const { solution, tsMm, stMm } = place
    if (solution.totalLengthMm === 0 || solution.totalLengthMm >= limit - LENGTH_ROUNDING_MM) return []
    return [
      cornerFinding(networkTrack, place, pathPoseAt(alignment.path, (tsMm + stMm) / 2), {
        rule: 'short-curve',
        severity: 'warning',
        measured: solution.totalLengthMm,
        limit,
        cure: widerCure(place, networkTrack, limit, startLeg, endLeg),
      }),
    ]
  })
}

function widerCure(
  { cornerId, solution }: CornerPlace,
  networkTrack: NetworkTrack,
  limitMm: number,
  startLeg: Pose | null,
  endLeg: Pose | null,
): CornerCure | null {
  const { track } = networkTrack
  const legPoseOf = legPosesOf(track, startLeg, endLeg)
  let { radiusMm, totalLengthMm } = solution
  for (let trial = 0; trial < TRIALS; trial++) {
    // With easements by class the length grows more slowly than the radius: what is wanting is all put on the arc.
    const widerMm = radiusMm + (limitMm - totalLengthMm) / Math.abs(solution.deflectionRad)
    const cureMm = Number((Math.ceil(widerMm / CURE_STEP_MM - 1e-9) * CURE_STEP_MM).toFixed(1))
    const cure: CornerCure = { kind: 'setRadius', track: track.id, corner: cornerId, radiusMm: cureMm }
    const radius = cureCorner(track, cure)?.radius
    if (radius === undefined || radius === 'easement-only' || typeof radius === 'object') return null
    const tried = cureTried(networkTrack, cure, legPoseOf)
    const after = tried.ok ? tried.corners.find((place) => place.cornerId === cornerId) : undefined
    if (after === undefined) return null
    if (after.solution.totalLengthMm >= limitMm - LENGTH_ROUNDING_MM) return cure
    radiusMm = cureMm
    totalLengthMm = after.solution.totalLengthMm
  }
  return null
}
