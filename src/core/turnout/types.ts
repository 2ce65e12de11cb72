import type { Path, Point, Pose } from '../geom/types.ts'
import type { FrogDefinition, Hand } from '../plan/types.ts'

/** All that a turnout is computed from; nothing 'standard' left. mm on the model. */
export interface TurnoutRequest {
  readonly gaugeMm: number
  readonly ratio: number
  readonly frog: number
  readonly frogDefinition: FrogDefinition
  readonly hand: Hand
  readonly points: 'straight' | 'curved'
  /** Along the point rail, PS to heel. */
  readonly pointLengthMm: number
  readonly pointThicknessMm: number
  /** Gauge line of stock rail to gauge line of point rail at the heel. */
  readonly heelSpreadMm: number
  /** Angle of a curved point at its tip; 0: tangent to the stock rail. Straight points: ignored. */
  readonly entryAngleRad: number
  /** Theoretical frog point back along the gauge line. */
  readonly toeLengthMm: number
  /** Theoretical frog point on along the gauge line to the end of the frog rails. */
  readonly heelLengthMm: number
  readonly flangewayMm: number
  readonly checkGaugeMm: number
  readonly railHeadMm: number
  readonly railFootMm: number
  readonly tieLengthMm: number
  readonly tieWidthMm: number
  readonly tieSpacingMm: number
  readonly foulingMm: number
}

export type TurnoutRailRole =
  | 'stock-straight'
  | 'stock-curved'
  | 'point-straight'
  | 'point-curved'
  | 'closure-straight'
  | 'closure-curved'
  | 'frog-straight'
  | 'frog-curved'
  | 'wing-straight'
  | 'wing-curved'
  | 'guard-straight'
  | 'guard-curved'

/**
 * One rail: the line of its gauge (running) face and the side on which the head lies.
 * Guard and wing rails: the line is their working face. `-straight`/`-curved` says which route's wheel runs on or is
 * guarded by it.
 */
export interface TurnoutRail {
  readonly role: TurnoutRailRole
  readonly gaugeLine: Path
  /** +1: the head lies left of the gauge line seen along rising station; -1: right. */
  readonly headSide: 1 | -1
  readonly headWidthMm: number
  readonly footWidthMm: number
  /** Head width at the start and end where planed or filed to a taper (points, frog); absent: full. */
  readonly startHeadMm?: number
  readonly endHeadMm?: number
  /** Widths from the start to where the head is full, in even tapers between them; absent: one taper over the whole rail. */
  readonly headTaper?: readonly HeadWidth[]
}

/** Width of a rail's head at a distance along it. */
export interface HeadWidth {
  readonly alongMm: number
  readonly headMm: number
}

export interface TurnoutTie {
  /** Distance of the tie's middle line from PS along the host. */
  readonly stationMm: number
  /** Tie axis end points in the turnout frame. */
  readonly from: Point
  readonly to: Point
  readonly lengthMm: number
  readonly widthMm: number
  readonly isHeadBlock: boolean
}

export interface TurnoutGap {
  readonly at: Point
  readonly rail: TurnoutRailRole
}

export interface TurnoutOrdinate {
  /** From the heel along the straight stock rail's gauge line. */
  readonly xMm: number
  /** From the stock rail's gauge line to the closure rail's. */
  readonly yMm: number
}

/**
 * A turnout in its own frame: PS at the origin on the centreline of the straight route, which runs along +x; a left
 * hand one diverges to +y. Definitions of each number: docs/definitions.md.
 */
export interface TurnoutGeometry {
  readonly request: TurnoutRequest
  readonly frogAngleRad: number
  /** Angle that the points have turned by their heel: S of the closure equations. */
  readonly switchAngleRad: number
  readonly heelAngleRad: number
  /** Radius of the gauge line of a curved point; null: straight points. */
  readonly pointRadiusMm: number | null
  readonly leadMm: number
  readonly closureRadiusMm: number
  readonly closureGaugeLineRadiusMm: number
  readonly divergingRadiusMm: number
  readonly closureStraightMm: number
  readonly closureCurvedMm: number
  readonly throatMm: number
  /** PS to the end of the frog's heel rails, along the straight route. */
  readonly overallMm: number
  readonly foulingMm: number
  readonly throwMm: number
  readonly ordinates: readonly TurnoutOrdinate[]
  readonly rails: readonly TurnoutRail[]
  readonly ties: readonly TurnoutTie[]
  readonly gaps: readonly TurnoutGap[]
  readonly throwHole: { readonly at: Point; readonly slotLengthMm: number; readonly slotWidthMm: number }
  /** Centrelines of the two routes from PS: the straight one, and the diverging one to the leg. */
  readonly straightRoute: Path
  readonly divergingRoute: Path
  /** Where a track starts on the diverging side: the frog heel, heading away. */
  readonly leg: Pose
  readonly frogPoint: Point
  readonly halfInchPoint: Point
  /** Stretch of the host that the turnout takes: from the end of the head blocks to the last long tie. x in mm from PS. */
  readonly extent: { readonly fromMm: number; readonly toMm: number }
}

/** What a value would have to be, in the value's own unit; null: no bound on that side. At the bound itself it may just not do. */
export interface ValueBounds {
  readonly least: number | null
  readonly most: number | null
  /** What sets the bound, to be read after it. Empty when it goes without saying. */
  readonly because: string
}

export type TurnoutProblem =
  | { readonly kind: 'frogOutOfRange'; readonly frog: number; readonly min: number; readonly max: number }
  | ({ readonly kind: 'badValue'; readonly where: keyof TurnoutRequest; readonly value: number } & ValueBounds)
  /** Nothing left for the closure between heel and toe; shortByMm across the gauge. */
  | { readonly kind: 'noClosureSpread'; readonly shortByMm: number }
  /** The points already turn as much as the frog. */
  | {
      readonly kind: 'switchAngleTooLarge'
      readonly switchAngleRad: number
      readonly frogAngleRad: number
      readonly minPointLengthMm: number
    }
  | { readonly kind: 'pointsLongerThanLead'; readonly pointLengthMm: number; readonly roomMm: number }

export type TurnoutResult =
  | { readonly ok: true; readonly turnout: TurnoutGeometry }
  | { readonly ok: false; readonly problem: TurnoutProblem }
