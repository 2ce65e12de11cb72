import type { Point } from '../geom/types.ts'

/** A rigid motion of the plane: first mirrored about the x axis or not, then turned about the origin, then shifted. */
export interface Motion {
  readonly isMirrored: boolean
  readonly turnRad: number
  readonly shift: Point
}

export function motionShift(shift: Point): Motion {
  return { isMirrored: false, turnRad: 0, shift }
}

/** Turned anticlockwise about a point. */
export function motionTurn(about: Point, turnRad: number): Motion {
  return held({ isMirrored: false, turnRad, shift: { x: 0, y: 0 } }, about)
}

/** Mirrored in a line through a point at an angle. */
export function motionMirror(through: Point, angleRad: number): Motion {
  return held({ isMirrored: true, turnRad: 2 * angleRad, shift: { x: 0, y: 0 } }, through)
}

/** The same motion with another shift, so that a point stays where it is. */
function held(motion: Motion, fixed: Point): Motion {
  const at = motionPoint(motion, fixed)
  return { ...motion, shift: { x: fixed.x - at.x, y: fixed.y - at.y } }
}

/** Where a point comes to lie. Quarter turns are exact but for the shift's own rounding. */
export function motionPoint({ isMirrored, turnRad, shift }: Motion, { x, y }: Point): Point {
  const [cos, sin] = cosSin(turnRad)
  const up = isMirrored ? -y : y
  return { x: x * cos - up * sin + shift.x, y: x * sin + up * cos + shift.y }
}

/** Where a direction comes to point; not wrapped. */
export function motionHeading({ isMirrored, turnRad }: Motion, headingRad: number): number {
  return (isMirrored ? -headingRad : headingRad) + turnRad
}

function cosSin(rad: number): readonly [number, number] {
  const quarters = rad / (Math.PI / 2)
  const turn = Math.round(quarters)
  if (Math.abs(quarters - turn) > 1e-15 * Math.max(1, Math.abs(turn))) return [Math.cos(rad), Math.sin(rad)]
  switch (((turn % 4) + 4) % 4) {
    case 0:
      return [1, 0]
    case 1:
      return [0, 1]
    case 2:
      return [-1, 0]
    default:
      return [0, -1]
  }
}
