import type { Path } from '../../geom/types.ts'
import type { FrogDefinition, SlipChoice } from '../../plan/types.ts'
import type { ThrowHole, TurnoutGap, TurnoutOrdinate, TurnoutRail, TurnoutTie } from '../types.ts'
import type { BadValue } from '../valueCheck.ts'
import type { RouteName, Side, WorkFrog, WorkMeasures, WorkRoute } from '../work/types.ts'

export type { SlipChoice } from '../../plan/types.ts'

/** A track of a crossing, in the crossing's frame: its centreline, and how far along it the crossing lies. */
export interface CrossingTrack {
  readonly path: Path
  readonly atMm: number
}

/**
 * All that a crossing is computed from. Frame: the centrelines meet at the origin, the first track heads along +x there, the
 * second turns from it by less than a right angle (run through the other way where it would be more). mm on the model.
 */
export interface CrossingRequest extends WorkMeasures {
  readonly gaugeMm: number
  readonly first: CrossingTrack
  readonly second: CrossingTrack
  readonly frogDefinition: FrogDefinition
  readonly slip: SlipChoice
  /** fixed: the obtuse frogs are elbow rails and points; movable: their points move, and nothing is left unguarded. */
  readonly elbow: 'fixed' | 'movable'
  readonly pointThicknessMm: number
  readonly heelSpreadMm: number
  readonly tieLengthMm: number
  readonly tieWidthMm: number
  readonly tieSpacingMm: number
  /** The smallest wheel that runs here and the depth of its flange. */
  readonly wheelDiameterMm: number
  readonly flangeDepthMm: number
}

/** One slip of a crossing. */
export interface Slip {
  readonly side: Side
  readonly route: RouteName
  /** Tightest of its centreline, mm. */
  readonly radiusMm: number
  /** Stations of its points on both tracks, from the crossing point, mm: before it on one, behind it on the other. */
  readonly psFirstMm: number
  readonly psSecondMm: number
  readonly switchAngleRad: number
  readonly throwMm: number
  readonly ordinates: readonly TurnoutOrdinate[]
}

export interface CrossingGeometry {
  readonly request: CrossingRequest
  /** Angle between the tracks at the crossing point, rad, 0 to a right angle; the number in the sense of 2 atan(1/2N). */
  readonly angleRad: number
  readonly number: number
  readonly routes: readonly WorkRoute[]
  readonly rails: readonly TurnoutRail[]
  /** Rails of what is built in one with it that its wheels run on or are guarded by, told as its own; absent: it stands alone. */
  readonly beside?: readonly TurnoutRail[]
  readonly frogs: readonly WorkFrog[]
  readonly ties: readonly TurnoutTie[]
  readonly gaps: readonly TurnoutGap[]
  readonly slips: readonly Slip[]
  readonly throwHoles: readonly ThrowHole[]
  /** Length over which an elbow frog holds no wheel, and over which the wheel of the request is held by what is left. */
  readonly unguardedMm: number
  readonly guidedMm: number
  /** What the crossing takes of each track, from the crossing point. */
  readonly extents: {
    readonly first: { readonly fromMm: number; readonly toMm: number }
    readonly second: { readonly fromMm: number; readonly toMm: number }
  }
}

/** A value of a request that can be told in words. */
export type CrossingValue = Exclude<keyof CrossingRequest, 'checkFlangewayMm' | 'first' | 'second' | 'frogDefinition' | 'slip' | 'elbow'>

export type CrossingProblem =
  /** The tracks meet so flat that no diamond is built; leastRad would do. */
  | { readonly kind: 'angleTooSmall'; readonly angleRad: number; readonly leastRad: number }
  /** A track ends, or the two meet again, inside the crossing. */
  | { readonly kind: 'trackTooShort'; readonly track: 'first' | 'second'; readonly shortByMm: number }
  /** The tracks bend so alike that they do not come a gauge apart within overMm of the crossing point. */
  | { readonly kind: 'notApart'; readonly overMm: number }
  | { readonly kind: 'meetAgain'; readonly atMm: number }
  /**
   * Built in one with turnouts that stand near, frogs come so near to each other that something has no room: a guard rail, of which shortByMm
   * would be cut away, or the rails between two frogs.
   */
  | { readonly kind: 'frogsTooNear'; readonly what: 'guard' | 'rails'; readonly shortByMm: number }
  /**
   * No room for the slip between the outer frogs. heel: in the middle its rail has opened shortByMm less than at a heel; elbow:
   * the points would reach shortByMm into the elbow; curve: no arc leads from one track to the other.
   */
  | { readonly kind: 'noSlip'; readonly side: Side; readonly why: 'heel' | 'elbow' | 'curve'; readonly shortByMm: number }
  /** The slip's outer rail comes too near to the elbow: spread there, and what it needs. */
  | { readonly kind: 'slipFoulsElbow'; readonly side: Side; readonly spreadMm: number; readonly needMm: number }
  | ({ readonly kind: 'badValue' } & BadValue<CrossingValue>)

export type CrossingResult =
  | { readonly ok: true; readonly crossing: CrossingGeometry }
  | { readonly ok: false; readonly problem: CrossingProblem }
