import { clothoidPose, clothoidPoseInto } from './clothoid.ts'
import type { PoseSlot } from './clothoid.ts'
import type { CurveElement, PathElement, Pose } from './types.ts'

/** Change of curvature per mm along the element, 1/mm^2. */
export function elementSharpness(element: CurveElement): number {
  return element.k0 === element.k1 ? 0 : (element.k1 - element.k0) / element.lengthMm
}

/**
 * Pose at distance s along an element that starts in `start`.
 *
 * Units:      mm, rad. The heading runs on without being wrapped.
 * Domain:     any s; outside [0, length] the curvature law is continued.
 * Exactness:  1e-13 of the length plus rounding.
 */
export function elementPoseAt(element: CurveElement, start: Pose, s: number): Pose {
  return clothoidPose(start, element.k0, elementSharpness(element), s)
}

/** The same in the plan for an element of a path, written into a slot. */
export function elementPoseInto(slot: PoseSlot, element: PathElement, s: number): void {
  clothoidPoseInto(slot, element.start, element.k0, elementSharpness(element), s)
}

/** Curvature at distance s, 1/mm; exact at both ends. */
export function elementCurvatureAt(element: CurveElement, s: number): number {
  if (element.k0 === element.k1) return element.k0
  const t = s / element.lengthMm
  return element.k0 * (1 - t) + element.k1 * t
}

/** Pose in which the element ends. */
export function elementEnd(element: CurveElement, start: Pose): Pose {
  return elementPoseAt(element, start, element.lengthMm)
}

/** The same curve run through from its end: left curves become right ones. */
export function elementReverse(element: CurveElement): CurveElement {
  return { lengthMm: element.lengthMm, k0: 0 - element.k1, k1: 0 - element.k0 }
}

/** Mirror image: left curves become right ones. */
export function elementMirror(element: CurveElement): CurveElement {
  return { lengthMm: element.lengthMm, k0: 0 - element.k0, k1: 0 - element.k1 }
}

/** The parts before and behind distance s, 0 <= s <= length; one of them has no length when s is an end. */
export function elementSplit(element: CurveElement, s: number): readonly [CurveElement, CurveElement] {
  const k = elementCurvatureAt(element, s)
  return [
    { lengthMm: s, k0: element.k0, k1: k },
    { lengthMm: element.lengthMm - s, k0: k, k1: element.k1 },
  ]
}
