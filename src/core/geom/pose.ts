import type { Point, Pose } from './types.ts'

/** Pose moved straight ahead by a distance, mm (negative: back). */
export function poseAhead(pose: Pose, distanceMm: number): Pose {
  return {
    x: pose.x + distanceMm * Math.cos(pose.headingRad),
    y: pose.y + distanceMm * Math.sin(pose.headingRad),
    headingRad: pose.headingRad,
  }
}

/** Pose moved square to its heading, mm, positive to the left; heading unchanged. */
export function poseOffset(pose: Pose, offsetMm: number): Pose {
  return {
    x: pose.x - offsetMm * Math.sin(pose.headingRad),
    y: pose.y + offsetMm * Math.cos(pose.headingRad),
    headingRad: pose.headingRad,
  }
}

/** Same place, looking back. Half a turn is taken off a heading above zero and added to any other, so (-pi, pi] stays within itself. */
export function poseReverse(pose: Pose): Pose {
  const headingRad = pose.headingRad > 0 ? pose.headingRad - Math.PI : pose.headingRad + Math.PI
  return { x: pose.x, y: pose.y, headingRad }
}

/** A point given in a frame (x ahead, y left of the frame's pose), in the plan. */
export function poseToPlan(frame: Pose, local: Point): Point {
  const cos = Math.cos(frame.headingRad)
  const sin = Math.sin(frame.headingRad)
  return { x: frame.x + local.x * cos - local.y * sin, y: frame.y + local.x * sin + local.y * cos }
}

/** A point of the plan as seen from a frame: x ahead, y left. Inverse of poseToPlan. */
export function poseToLocal(frame: Pose, point: Point): Point {
  const cos = Math.cos(frame.headingRad)
  const sin = Math.sin(frame.headingRad)
  const dx = point.x - frame.x
  const dy = point.y - frame.y
  return { x: dx * cos + dy * sin, y: dy * cos - dx * sin }
}

/** A pose given in a frame, in the plan. Headings add up; they are not wrapped. */
export function poseCompose(frame: Pose, local: Pose): Pose {
  const at = poseToPlan(frame, local)
  return { x: at.x, y: at.y, headingRad: frame.headingRad + local.headingRad }
}

/** Mirror image about the local x axis: left becomes right. Exact, and its own inverse. */
export function poseMirror(pose: Pose): Pose {
  return { x: pose.x, y: -pose.y, headingRad: -pose.headingRad }
}

/** Tangents that turn less than this against each other are parallel, rad. */
const PARALLEL_RAD = 1e-9

/** Where the tangents of two poses cross; null when they are parallel. */
export function posesMeet(a: Pose, b: Pose): Point | null {
  const across = Math.sin(b.headingRad - a.headingRad)
  if (Math.abs(across) < PARALLEL_RAD) return null
  // Distance ahead of a at which b's line is reached.
  const along = ((b.x - a.x) * Math.sin(b.headingRad) - (b.y - a.y) * Math.cos(b.headingRad)) / across
  const { x, y } = poseAhead(a, along)
  return { x, y }
}
