import { angleWrap } from './angle.ts'
import { elementEnd } from './element.ts'
import type { Path, Pose } from './types.ts'

/** By how much an element starts off from where the one before it ends: turned, and ahead and to the left of that end. */
export interface PathJump {
  readonly turnRad: number
  readonly aheadMm: number
  readonly leftMm: number
}

/** Headings and places of two elements that meet differ by more than rounding. */
const jumpRad = 1e-6
const jumpMm = 1e-4

/** The jump before an element of a path; null where the line goes on, as it does at nearly all joints. */
export function pathJumpBefore({ elements }: Pick<Path, 'elements'>, index: number): PathJump | null {
  const [before, element] = [elements[index - 1], elements[index]]
  return before === undefined || element === undefined ? null : poseJump(elementEnd(before, before.start), element.start)
}

/** The jump from the pose in which a line ends to the one in which it goes on; null: it just goes on. */
export function poseJump(end: Pose, start: Pose): PathJump | null {
  const turnRad = angleWrap(start.headingRad - end.headingRad)
  const [dx, dy] = [start.x - end.x, start.y - end.y]
  if (Math.abs(turnRad) <= jumpRad && Math.hypot(dx, dy) <= jumpMm) return null
  const [cos, sin] = [Math.cos(end.headingRad), Math.sin(end.headingRad)]
  return { turnRad, aheadMm: dx * cos + dy * sin, leftMm: dy * cos - dx * sin }
}

/** The pose in which a line goes on behind a jump. */
export function poseJumped({ x, y, headingRad }: Pose, { turnRad, aheadMm, leftMm }: PathJump): Pose {
  const [cos, sin] = [Math.cos(headingRad), Math.sin(headingRad)]
  return { x: x + aheadMm * cos - leftMm * sin, y: y + aheadMm * sin + leftMm * cos, headingRad: headingRad + turnRad }
}

/** The pose from which a jump leads to the origin, ahead along x. */
export function poseBeforeJump({ turnRad, aheadMm, leftMm }: PathJump): Pose {
  const [cos, sin] = [Math.cos(turnRad), Math.sin(turnRad)]
  return { x: -(aheadMm * cos + leftMm * sin), y: aheadMm * sin - leftMm * cos, headingRad: -turnRad }
}
