import { pathPoseAt, poseCompose, poseReverse } from '../../geom/index.ts'
import type { Pose } from '../../geom/types.ts'
import { peakGolden } from '../golden.ts'
import type { JoinTarget } from './types.ts'

/** Places along a target that are tried first; between the best and its neighbours the best is then sought. */
const PLACES = 33

/** A leg of the target and where along the target it is; 0 for a single pose. */
export interface TargetPlace {
  readonly alongMm: number
  readonly end: Pose
}

/** The leg of a target at a station. */
export function targetPlaceAt(target: JoinTarget, alongMm: number): TargetPlace {
  if (target.kind === 'pose') return { alongMm: 0, end: target.pose }
  const { x, y, headingRad } = pathPoseAt(target.path, alongMm)
  const pose: Pose = { x, y, headingRad }
  return { alongMm, end: poseCompose(target.facing === 'rising' ? pose : poseReverse(pose), target.leg) }
}

/** The places of a target that are tried first, evenly. */
export function targetPlaces(target: JoinTarget): readonly TargetPlace[] {
  if (target.kind === 'pose' || target.fromMm === target.toMm) return [targetPlaceAt(target, target.kind === 'pose' ? 0 : target.fromMm)]
  const stepMm = (target.toMm - target.fromMm) / (PLACES - 1)
  return Array.from({ length: PLACES }, (_, i) => targetPlaceAt(target, i === PLACES - 1 ? target.toMm : target.fromMm + i * stepMm))
}

/** The place where something is best, sought between the neighbours of the best of the places tried first. */
export function targetPlaceBest(target: JoinTarget, places: readonly TargetPlace[], worth: (place: TargetPlace) => number): TargetPlace {
  let best = 0
  let bestWorth = -Infinity
  for (const [i, place] of places.entries()) {
    const value = worth(place)
    if (value > bestWorth) {
      best = i
      bestWorth = value
    }
  }
  const found = places[best] ?? targetPlaceAt(target, 0)
  if (places.length === 1 || bestWorth === -Infinity) return found
  const from = places[Math.max(0, best - 1)] ?? found
  const to = places[Math.min(places.length - 1, best + 1)] ?? found
  const alongMm = peakGolden((mm) => worth(targetPlaceAt(target, mm)), from.alongMm, to.alongMm)
  const refined = targetPlaceAt(target, alongMm)
  return worth(refined) > bestWorth ? refined : found
}
