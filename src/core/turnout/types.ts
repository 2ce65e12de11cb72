import type { Path, Point, Pose } from '../geom/types.ts'
import type { FrogDefinition, Hand, TurnoutKind, TurnoutLeg } from '../plan/types.ts'
import type { TieChoice } from './ties/types.ts'
import type { GaugeLine, RouteName, Side, WorkFrog, WorkRoute } from './work/types.ts'

export type * from './construction/types.ts'
export type * from './ties/types.ts'
export type { TurnoutKind } from '../plan/types.ts'

/**
 * Where tracks share rails. gauntlet: no points; another track lies over the host's, the heel spread beside it, and leaves it. dual-gauge: a
 * smaller gauge shares the rail on the `common` side of the host; wide, narrow or both diverge. Plans have one gauge, so these are not
 * in them.
 */
export type SharedKind =
  | { readonly kind: 'gauntlet' }
  | {
      readonly kind: 'dual-gauge'
      readonly narrowGaugeMm: number
      readonly common: Side
      readonly diverging: 'wide' | 'narrow' | 'both'
    }
export type * from './work/types.ts'

/**
 * The host as seen from the turnout: its centreline with PS at `psMm` along it, where it passes the origin along +x.
 * Null in a request: straight, as far as one likes.
 */
export interface HostLine {
  readonly path: Path
  readonly psMm: number
}

/** All that a turnout is computed from; nothing 'standard' left. mm on the model. */
export interface TurnoutRequest {
  readonly kind: TurnoutKind | SharedKind
  readonly host: HostLine | null
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
  /** Absent: square to the host, evenly, of wood. */
  readonly ties?: TieChoice
  /** By how much the gauge of a diverging route is widened where it is sharper; absent: not. */
  readonly widening?: readonly WideningRule[]
}

/** On a route whose tightest radius is below this one the gauge is widened. The largest that applies counts. */
export interface WideningRule {
  readonly belowRadiusMm: number
  readonly byMm: number
}

/**
 * stock, point, closure, wing, guard as the words say; frog: a rail of a frog's point; elbow: the bent rail of an obtuse frog;
 * check: the bent guard rail inside it.
 */
export type RailPart = 'stock' | 'point' | 'closure' | 'frog' | 'wing' | 'guard' | 'elbow' | 'check'

/** Part and the route whose wheels run on the rail or are guarded by it. */
export type TurnoutRailRole = `${RailPart}-${RouteName}`

/**
 * One rail: the line of its gauge (running) face and the side on which the head lies.
 * Guard and wing rails: the line is their working face.
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

/** One diverging route of a turnout, in numbers. The same as stand in TurnoutGeometry for the first. */
export interface Divergence {
  readonly route: RouteName
  readonly frogAngleRad: number
  readonly switchAngleRad: number
  readonly leadMm: number
  /** Tightest of the route's centreline. */
  readonly radiusMm: number
  readonly closureRadiusMm: number
  readonly ordinates: readonly TurnoutOrdinate[]
  /** What the class asks for at this radius; 0: nothing. */
  readonly wideningAskedMm: number
  /** What is laid of it; null: nothing asked, no room, or the route bends away from its hand. */
  readonly widening: RouteWidening | null
}

/** A stretch of a route in whose middle the gauge is wider by so much. */
export interface RouteWidening {
  readonly byMm: number
  /** Stations of the route: from the heel of the points to ahead of the frog. */
  readonly fromMm: number
  readonly toMm: number
  /** Length of the ramp at either end, along the inner rail. */
  readonly rampMm: number
}

/** Where a track starts from a turnout. */
export interface TurnoutLegPose {
  readonly leg: TurnoutLeg
  readonly route: RouteName
  readonly pose: Pose
}

/** The middle of a throw bar and how far it moves. How large the hole under it is goes by the wire (`throwHole`). */
export interface ThrowHole {
  readonly at: Point
  readonly throwMm: number
}

/**
 * A turnout in its own frame: PS at the origin on the centreline of the straight route, which there runs along +x; a left
 * hand one diverges to +y. Definitions of each number: docs/definitions.md.
 */
export interface TurnoutGeometry {
  readonly request: TurnoutRequest
  readonly routes: readonly WorkRoute[]
  readonly frogs: readonly WorkFrog[]
  /** The gauge lines that the rails were made from; null: they cannot be made anew from them alone. */
  readonly lines: readonly GaugeLine[] | null
  readonly divergences: readonly Divergence[]
  readonly legs: readonly TurnoutLegPose[]
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
  /** Rails of what is built in one with it that its wheels run on or are guarded by, told as its own; absent: it stands alone. */
  readonly beside?: readonly TurnoutRail[]
  readonly ties: readonly TurnoutTie[]
  readonly gaps: readonly TurnoutGap[]
  /** Under the throw bar of each switch, the first one's first; two switches at one place have both bars in one bay. */
  readonly throwHoles: readonly ThrowHole[]
  /** Centreline of the route to the turnout's hand, from PS to the leg. */
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

/** A value of a request that can be told in words: all but the host, the kind and the choice of ties; wideningMm is the `byMm` of a rule. */
export type RequestValue = Exclude<keyof TurnoutRequest, 'kind' | 'host' | 'ties' | 'widening'> | 'wideningMm'

export type TurnoutProblem =
  | { readonly kind: 'frogOutOfRange'; readonly frog: number; readonly min: number; readonly max: number }
  | ({ readonly kind: 'badValue'; readonly where: RequestValue; readonly value: number } & ValueBounds)
  /** Nothing left for the closure between heel and toe; shortByMm across the gauge. The toe and the heel spread: each alone would do, null: none. */
  | {
      readonly kind: 'noClosureSpread'
      readonly shortByMm: number
      readonly mostToeMm: number | null
      readonly mostSpreadMm: number | null
    }
  /** The points already turn as much as the frog. */
  | {
      readonly kind: 'switchAngleTooLarge'
      readonly switchAngleRad: number
      readonly frogAngleRad: number
      readonly minPointLengthMm: number
    }
  | { readonly kind: 'pointsLongerThanLead'; readonly pointLengthMm: number; readonly roomMm: number }
  /** On a host so sharp there is no such frog, or a rail has no radius; leastRadiusMm and frogThatDoes: each alone would do, null: none. */
  | {
      readonly kind: 'hostTooSharp'
      readonly hostRadiusMm: number
      readonly leastRadiusMm: number | null
      readonly frog: number
      readonly frogThatDoes: number | null
    }
  /** The host ends inside the turnout: ahead of its points or behind them. */
  | { readonly kind: 'hostTooShort'; readonly end: 'ahead' | 'behind'; readonly shortByMm: number }
  /** A wye's host has to be straight from `fromMm` (below 0: ahead of PS) to PS. */
  | { readonly kind: 'hostNotStraight'; readonly fromMm: number }
  | { readonly kind: 'shareOutOfRange'; readonly share: number; readonly min: number; readonly max: number }
  /** The second switch of a three-way turnout lies where its points or frogs have no room: least and most would do, null: no bound known. */
  | {
      readonly kind: 'noRoomForSecond'
      readonly what: 'points' | 'frogs'
      readonly secondAfterMm: number
      readonly leastMm: number | null
      readonly mostMm: number | null
    }

export type TurnoutResult =
  | { readonly ok: true; readonly turnout: TurnoutGeometry }
  | { readonly ok: false; readonly problem: TurnoutProblem }
