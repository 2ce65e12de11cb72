import { angleWrap, poseMirror, poseReverse, poseToLocal } from '../../geom/index.ts'
import type { Pose } from '../../geom/types.ts'
import { STRAIGHT_RAD } from '../corner.ts'
import type { JoinCurve } from './curve.ts'
import { marginOneCurve, marginReverse, marginSameWay, NO_ROOM } from './margin.ts'
import type { Margin, Reach } from './margin.ts'
import type { JoinFamily, JoinHand } from './types.ts'

export type CurvedFamily = Exclude<JoinFamily, 'straight'>

/** A family with the hand of its first curve. */
export interface Shape {
  readonly family: CurvedFamily
  readonly first: JoinHand
}

const families: readonly CurvedFamily[] = ['oneCurve', 'sameWay', 'reverse', 'reverseBackToBack']

/** Every family that can work, both hands: the order in which they are tried. */
export const shapes: readonly Shape[] = families.flatMap((family): Shape[] => [
  { family, first: 'left' },
  { family, first: 'right' },
])

const other = (hand: JoinHand): JoinHand => (hand === 'left' ? 'right' : 'left')

export function shapeHands({ family, first }: Shape): readonly JoinHand[] {
  if (family === 'oneCurve') return [first]
  return family === 'sameWay' ? [first, first] : [first, other(first)]
}

export const shapeIsReverse = ({ family }: Shape): boolean => family === 'reverse' || family === 'reverseBackToBack'

/** A turn this little over half a turn is half a turn, rounded. */
export const HALF_TURN_ROUNDING_RAD = 1e-9

/** The end as seen from the start, mirrored for a first curve to the right; the turn wrapped. */
export function shapeReach(shape: Shape, start: Pose, end: Pose): Reach {
  const arriving = poseReverse(end)
  const at = poseToLocal(start, arriving)
  const seen = { x: at.x, y: at.y, headingRad: angleWrap(arriving.headingRad - start.headingRad) }
  const mirrored = shape.first === 'left' ? seen : poseMirror(seen)
  return { x: mirrored.x, y: mirrored.y, turnRad: mirrored.headingRad }
}

/** The whole turn of curves to the left only: 0 to a full turn. */
export const leftTurn = (turnRad: number): number => (turnRad > 0 ? turnRad : turnRad + 2 * Math.PI)

/** Margin of a shape whose headings stay within half a turn. */
export function shapeMargin(shape: Shape, first: JoinCurve, second: JoinCurve, betweenMm: number, reach: Reach): Margin {
  switch (shape.family) {
    case 'oneCurve':
    case 'sameWay': {
      const turnRad = leftTurn(reach.turnRad)
      if (turnRad < STRAIGHT_RAD || turnRad > Math.PI + HALF_TURN_ROUNDING_RAD) return NO_ROOM
      const turned = { x: reach.x, y: reach.y, turnRad }
      return shape.family === 'oneCurve' ? marginOneCurve(first, turned) : marginSameWay(first, second, betweenMm, turned)
    }
    case 'reverse':
    case 'reverseBackToBack':
      return marginReverse(first, second, betweenMm, reach)
  }
}
