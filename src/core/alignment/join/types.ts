import type { Path, Point, Pose } from '../../geom/types.ts'
import type { EasementRule, Id } from '../../plan/types.ts'

/** What the line class asks of a join. Lengths mm. */
export interface JoinLimits {
  readonly minRadiusMm: number
  /** Curves have this radius where one fits, and no larger one; null or left out: as large a one as fits. */
  readonly mostRadiusMm?: number | null
  readonly easement: EasementRule
  /** Least length of a curve with its easements; 0: any. */
  readonly shortestCurveMm: number
  /** Least tangent between two curves of opposite hand: the longest car. */
  readonly tangentBetweenMm: number
  /** Whether the easements of a reverse may meet back to back instead. */
  readonly isBackToBackAllowed: boolean
}

/** Where the line is to arrive. A leg's pose looks away from what it belongs to, so the line comes in against it. */
export type JoinTarget =
  | { readonly kind: 'pose'; readonly pose: Pose }
  /**
   * Anywhere between two stations of a path. There the leg's pose is given in the frame of the path's own pose, turned
   * round for 'falling'. For a turnout: its leg as seen from its points, and which way it faces.
   */
  | {
      readonly kind: 'along'
      readonly path: Path
      readonly fromMm: number
      readonly toMm: number
      readonly facing: 'rising' | 'falling'
      readonly leg: Pose
    }

export interface JoinRequest {
  /** Pose from which the line leaves. */
  readonly start: Pose
  readonly target: JoinTarget
  readonly limits: JoinLimits
}

export type JoinFamily = 'straight' | 'oneCurve' | 'sameWay' | 'reverse' | 'reverseBackToBack'
export type JoinHand = 'left' | 'right'

/** A limit that an alternative does not keep. */
export type JoinBreach =
  | { readonly limit: 'radius'; readonly askedMm: number; readonly reachedMm: number }
  | { readonly limit: 'tangent'; readonly askedMm: number; readonly reachedMm: number }

/** A PI of a join; a plain corner of a traverse. */
export interface JoinCorner extends Point {
  readonly id: Id
  readonly radiusMm: number
  readonly easementInMm: number
  readonly easementOutMm: number
}

export interface JoinAlternative {
  readonly family: JoinFamily
  /** Hand of each curve in turn. */
  readonly hands: readonly JoinHand[]
  /** Turn of each curve, rad, > 0. */
  readonly turnsRad: readonly number[]
  /** Ordinary PIs. A curve of more than 150 degrees takes two, with the arc running on between them. */
  readonly corners: readonly JoinCorner[]
  /** The leg that the line arrives against, and the station of the target path that gave it. */
  readonly end: Pose
  readonly stationMm: number | null
  /** null: no curve. */
  readonly minRadiusMm: number | null
  readonly lengthMm: number
  /** Tangents before, between and behind the curves. */
  readonly straightsMm: readonly number[]
  /** The line swings beyond half a turn, so it could have any larger radius as well: this is the shortest within the limits. */
  readonly isRadiusFree: boolean
  readonly breaches: readonly JoinBreach[]
  readonly meetsLimits: boolean
  readonly path: Path
}

/** Why no line keeps every limit, and the nearest value of that limit with which one would, the others kept. */
export type JoinStop =
  /** isBare: only curves without easements, of any length, with no tangent between, reach this radius. */
  | {
      readonly limit: 'radius'
      readonly family: JoinFamily
      readonly askedMm: number
      readonly nearestMm: number
      readonly isBare: boolean
    }
  /** Length of the easement by rule at the minimum radius; factor: nearest / asked. */
  | {
      readonly limit: 'easement'
      readonly family: JoinFamily
      readonly askedMm: number
      readonly nearestMm: number
      readonly factor: number
    }
  | { readonly limit: 'tangent'; readonly family: JoinFamily; readonly askedMm: number; readonly nearestMm: number }
  | { readonly limit: 'curve'; readonly family: JoinFamily; readonly askedMm: number; readonly nearestMm: number }
  /**
   * Not even bare curves of any radius lead there without running back. ahead, left: where the end lies as seen
   * from the start; turn: what the line would have to turn.
   */
  | {
      readonly limit: 'place'
      readonly reason: 'coincident' | 'behind'
      readonly aheadMm: number
      readonly leftMm: number
      readonly turnRad: number
    }

export type JoinProblem =
  | { readonly kind: 'notFinite'; readonly where: string }
  | { readonly kind: 'notPositive'; readonly where: string; readonly value: number }
  | { readonly kind: 'negative'; readonly where: string; readonly value: number }
  | { readonly kind: 'outsidePath'; readonly fromMm: number; readonly toMm: number; readonly lengthMm: number }

/** alternatives: largest minimum radius first, the shorter first of equals. stopped: empty when one of them keeps all limits. */
export type JoinAnswer =
  | { readonly ok: true; readonly alternatives: readonly JoinAlternative[]; readonly stopped: readonly JoinStop[] }
  | { readonly ok: false; readonly problem: JoinProblem }
