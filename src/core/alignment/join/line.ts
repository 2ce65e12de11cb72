import type { Pose } from '../../geom/types.ts'
import type { JoinCurve } from './curve.ts'
import { lineLay } from './lay.ts'
import { reachLeft } from './margin.ts'
import type { Reach } from './margin.ts'
import type { TargetPlace } from './place.ts'
import { leftTurn, shapeHands, shapeIsReverse } from './shape.ts'
import type { Shape } from './shape.ts'
import { straightsShortest } from './straights.ts'
import type { Straights } from './straights.ts'
import type { JoinAlternative, JoinBreach, JoinCorner, JoinLimits } from './types.ts'

/** A line of one shape, all its free numbers chosen: the radii, the turn of the first curve, the place of the end. */
export interface LineChoice {
  readonly shape: Shape
  readonly first: JoinCurve
  readonly second: JoinCurve
  readonly firstTurnRad: number
  /** The whole turn, in the mirrored frame, not wrapped. */
  readonly turnRad: number
  readonly betweenMm: number
  readonly reach: Reach
}

/** Less than this backwards is rounding: of the size of a room, what sums of lengths lose. */
const ROUNDING_MM = 1e-8

/** A reverse or pair in which a curve turns less is one curve in disguise, which is a family of its own. */
const DISGUISE_RAD = 1e-5

/** What each curve turns, > 0. */
export function lineTurns({ shape, firstTurnRad, turnRad }: LineChoice): readonly number[] {
  if (shape.family === 'oneCurve') return [turnRad]
  return [firstTurnRad, shapeIsReverse(shape) ? firstTurnRad - turnRad : turnRad - firstTurnRad]
}

/** The shortest straights that close a line, beyond the tangent it must have between its curves; null: it does not close. */
export function lineStraights(choice: LineChoice): Straights | null {
  const { shape, first, second, firstTurnRad, turnRad, betweenMm, reach } = choice
  const side = shapeIsReverse(shape) ? -1 : 1
  const left = reachLeft({ x: reach.x, y: reach.y, turnRad }, first, second, side)
  if (shape.family === 'oneCurve') return straightsShortest(left, [0, null, turnRad], ROUNDING_MM)
  const spread = first.tangentRadiusMm - side * second.tangentRadiusMm
  const between = first.kMm + second.kMm + betweenMm
  const cos = Math.cos(firstTurnRad)
  const sin = Math.sin(firstTurnRad)
  const to = { x: left.x - spread * sin - between * cos, y: left.y + spread * cos - between * sin }
  return straightsShortest(to, [0, firstTurnRad, turnRad], ROUNDING_MM)
}

export interface LineContext {
  readonly start: Pose
  readonly place: TargetPlace
  readonly isAlong: boolean
  readonly limits: JoinLimits
  readonly isRadiusFree: boolean
}

/** A chosen line laid out and measured; null when it does not close or a curve of it is none. */
export function lineAlternative(choice: LineChoice, context: LineContext): JoinAlternative | null {
  const { shape, first, second, betweenMm } = choice
  const { start, place, limits } = context
  const turnsRad = lineTurns(choice)
  if (turnsRad.some((rad) => rad < DISGUISE_RAD)) return null
  const straights = lineStraights(choice)
  if (straights === null) return null
  const hands = shapeHands(shape)
  const curves = turnsRad.map((turnRad, i) => {
    const { radiusMm, easementMm } = i === 0 ? first : second
    return { hand: hands[i] ?? shape.first, turnRad, radiusMm, easementMm }
  })
  const [firstMm, betweenMoreMm, lastMm] = straights
  const laid = lineLay({ start, end: place.end, curves, firstMm, lastMm })
  if (laid === null) return null
  const minRadiusMm = cornersLeastRadius(laid.corners)
  const straightsMm = shape.family === 'oneCurve' ? [firstMm, lastMm] : [firstMm, betweenMm + betweenMoreMm, lastMm]
  const breaches = lineBreaches(shape, minRadiusMm, straightsMm, limits)
  return {
    family: shape.family,
    hands,
    turnsRad,
    corners: laid.corners,
    end: place.end,
    stationMm: context.isAlong ? place.alongMm : null,
    minRadiusMm,
    lengthMm: laid.path.lengthMm,
    straightsMm,
    isRadiusFree: context.isRadiusFree,
    breaches,
    meetsLimits: breaches.length === 0,
    path: laid.path,
  }
}

function cornersLeastRadius(corners: readonly JoinCorner[]): number {
  return corners.reduce((least, { radiusMm }) => Math.min(least, radiusMm), Infinity)
}

/** A radius this part under the limit keeps it: where the limit is the answer, the search stops that near to it. */
const RADIUS_ROUNDING = 1e-9

function lineBreaches(shape: Shape, minRadiusMm: number, straightsMm: readonly number[], limits: JoinLimits): readonly JoinBreach[] {
  const breaches: JoinBreach[] = []
  if (minRadiusMm < limits.minRadiusMm * (1 - RADIUS_ROUNDING))
    breaches.push({ limit: 'radius', askedMm: limits.minRadiusMm, reachedMm: minRadiusMm })
  const betweenMm = straightsMm[1] ?? 0
  if (shape.family === 'reverseBackToBack' && !limits.isBackToBackAllowed && betweenMm < limits.tangentBetweenMm)
    breaches.push({ limit: 'tangent', askedMm: limits.tangentBetweenMm, reachedMm: betweenMm })
  return breaches
}

/** The whole turn of a shape whose headings stay within half a turn. */
export const shapeTurn = (shape: Shape, reach: Reach): number => (shapeIsReverse(shape) ? reach.turnRad : leftTurn(reach.turnRad))
