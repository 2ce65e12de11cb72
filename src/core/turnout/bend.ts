import { elementEnd, elementReverse, poseReverse } from '../geom/index.ts'
import type { CurveElement, Pose } from '../geom/types.ts'

/** A straight piece. */
export function straight(lengthMm: number): CurveElement {
  return { lengthMm, k0: 0, k1: 0 }
}

/** An arc of a radius (mm, > 0) that turns by an angle, rad, positive to the left. */
export function arc(radiusMm: number, turnRad: number): CurveElement {
  const k = Math.sign(turnRad) / radiusMm
  return { lengthMm: radiusMm * Math.abs(turnRad), k0: k, k1: k }
}

/**
 * A bend in a rail: rails are bent, not broken, so the corner between two straights is an arc whose tangents have this
 * length. Outside them both straights are exact.
 */
export function bend(turnRad: number, tangentMm: number): CurveElement {
  return arc(tangentMm / Math.tan(Math.abs(turnRad) / 2), turnRad)
}

/** Where a chain of elements must start so that it ends in a pose. */
export function chainStart(elements: readonly CurveElement[], end: Pose): Pose {
  let pose = poseReverse(end)
  for (const element of elements.toReversed()) pose = elementEnd(elementReverse(element), pose)
  return poseReverse(pose)
}
