import type { AlignmentProblem } from '../alignment/types.ts'
import type { MakerProblem } from '../makers/types.ts'
import type { PlacementProblem } from '../network/types.ts'
import type { CrossingProblem } from '../turnout/crossing/types.ts'
import type { CheckDimensionKind } from '../turnout/dimensions/types.ts'
import type { JointRule } from '../turnout/index.ts'
import type { RouteName } from '../turnout/types.ts'
import type { Point } from '../geom/types.ts'
import type { DoorLeaf, Id, MakerNumbers, TableName } from '../plan/types.ts'

export type RuleName =
  | 'minimum-radius'
  | 'car-radius'
  | 'coupling-radius'
  | 'reverse-curve'
  | 'broken-back'
  | 'coupler-swing'
  | 'alignment'
  | 'easement-fit'
  | 'easement-short'
  | 'short-curve'
  | 'benchwork-edge'
  | 'roadbed-edge'
  | 'roadbed-overlap'
  | 'track-clearance'
  | 'fixed-clearance'
  | 'minimum-frog'
  | 'turnout-place'
  | 'check-dimensions'
  | 'crossing-build'
  | 'throw-room'
  | 'benchwork-outline'
  | 'helix-height'
  | 'reach'
  | 'aisle'
  | 'door-swing'
  | 'hatch-size'
  | 'hatch-place'
  | 'bench-overlap'
  | 'maker-follow'
  | 'rail-joint'
  | 'line-joint'

export type Severity = 'error' | 'warning'

/** The stage in which the builder cures it. */
export type Stage = 'room' | 'line' | 'turnouts' | 'roadbed' | 'track'

/** The smallest change that cures a finding, as data; the view words it and offers it. */
export type Cure =
  | { readonly kind: 'setRadius'; readonly track: Id; readonly corner: Id; readonly radiusMm: number }
  | {
      readonly kind: 'scaleEasements'
      readonly track: Id
      readonly corner: Id
      readonly easementInMm: number
      readonly easementOutMm: number
    }
  /** The two easements of a corner are to meet, with no arc between them. */
  | { readonly kind: 'easementsMeet'; readonly track: Id; readonly corner: Id }
  | { readonly kind: 'setFrog'; readonly turnout: Id; readonly frog: number }
  | { readonly kind: 'moveTurnout'; readonly turnout: Id; readonly stationMm: number }
  /** A door with its leaf on the other jamb, or opening to the other side. was: as it hangs now. */
  | { readonly kind: 'hangDoor'; readonly opening: Id; readonly was: DoorLeaf; readonly leaf: DoorLeaf }
  /** A hatch of the same shape, so many times as large, where it lies under no track. */
  | { readonly kind: 'growHatch'; readonly hatch: Id; readonly times: number; readonly outline: readonly Point[] }
  /** Other numbers for a maker; the one that is changed, and its length, mm. */
  | {
      readonly kind: 'setNumbers'
      readonly maker: Id
      readonly numbers: MakerNumbers
      readonly name: MakerLength
      readonly lengthMm: number
    }

/** A length among the numbers of a maker. */
export type MakerLength =
  | 'stationMm'
  | 'fromMm'
  | 'toMm'
  | 'centresMm'
  | 'leadCentresMm'
  | 'curveCentresMm'
  | 'radius'
  | 'acrossMm'
  | 'climbMm'
  | 'riseMm'
  | 'clearMm'

/** What is wrong with an outline of benchwork. Ring -1 is the outline, 0.. are the holes; edges count from their first point. */
export type OutlineProblem =
  | { readonly kind: 'outlineTooFewPoints'; readonly ring: number; readonly have: number; readonly need: number }
  | { readonly kind: 'outlineNoArea'; readonly ring: number }
  | { readonly kind: 'outlineCrosses'; readonly ring: number; readonly edgeA: number; readonly edgeB: number }
  | { readonly kind: 'holeOutside'; readonly ring: number }

/** Two turnouts want the same stretch of track: PS to PS as it is and as it would have to be. */
export interface TurnoutOverlap {
  readonly kind: 'turnoutsOverlap'
  readonly overlapMm: number
}

/** Ties of two turnouts on different tracks lie on each other: so many of the later one's. */
export interface TurnoutTiesMeet {
  readonly kind: 'turnoutTiesMeet'
  readonly ties: number
}

/** A turnout and a crossing want the same stretch of track. */
export interface TurnoutOverCrossing {
  readonly kind: 'turnoutOverCrossing'
  readonly crossing: string
  readonly overlapMm: number
}

/** A joist or riser crosses the room of a switch machine below a throw bar. */
export interface JoistUnderThrow {
  readonly kind: 'joistUnderThrow'
  readonly joist: Id
}

/** Ends of so many ties lie past the edge of the benchwork. */
export interface TiesOverEdge {
  readonly kind: 'tiesOverEdge'
  readonly ties: number
}

/** The bend of the host changes under the points, closure or frog: where an easement begins or ends, a bare curve does, or one radius follows another. */
export interface EasementEndUnder {
  readonly kind: 'easementEndUnder'
  readonly what: 'easement' | 'curve' | 'join'
  readonly stationMm: number
}

/** What is the matter with a crossing. number: its frog number. */
export type CrossingFault =
  | { readonly kind: 'crossingUnbuilt'; readonly problem: CrossingProblem }
  | { readonly kind: 'elbowUnguarded'; readonly number: number }
  | { readonly kind: 'crossingsOverlap'; readonly overlapMm: number }

/** A dimension that guides wheels through a turnout is outside its standard. */
export interface CheckDimensionFault {
  readonly kind: 'checkDimension'
  readonly dimension: CheckDimensionKind
  readonly route: RouteName
  /** Of a crossing in whose scale check rails on both sides have no place: the gauge at which they would; else null. */
  readonly gaugeMm: number | null
}

/** What lies between two curves in a row. hands: of the curve before and the one behind, 1 left, -1 right. */
export interface CurvesInARow {
  readonly kind: 'curvesInARow'
  readonly hands: readonly [1 | -1, 1 | -1]
  readonly straightMm: number
  /** Easements that lead out of the one and into the other; 0: none. */
  readonly easementsMm: readonly [number, number]
  /** Whose diverging route is one of the two; null: both are corners of the track. */
  readonly turnout: Id | null
}

/** A curve under so many lengths of the longest car. */
export interface CarLengths {
  readonly kind: 'carLengths'
  readonly lengths: number
  /** Over coupler faces, mm. */
  readonly lengthMm: number
}

/** A coupler swings too far. lateralMm: how far the faces of both lie apart sideways as long as both point straight ahead. */
export interface CouplersSwing {
  readonly kind: 'couplersSwing'
  /** The vehicle that it is coupled to. */
  readonly other: Id
  readonly lateralMm: number
}

/** One line runs over the other, known to lie so little higher that no train goes under it. measured: from railhead to railhead. */
export interface LowOverpass {
  readonly kind: 'lowOverpass'
}

/** Two centrelines cross at one level. */
export interface LevelCrossing {
  readonly kind: 'levelCrossing'
  readonly angleRad: number
}

/** Roadbeds of two tracks lie in each other. isOneSheet: of one material and as thick, so that a sheet does under both. */
export interface RoadbedsMeet {
  readonly kind: 'roadbedsMeet'
  readonly isOneSheet: boolean
}

/** Cars come too near to what stands still, or would run into it. */
export interface NearFixed {
  readonly kind: 'nearFixed'
  readonly table: 'walls' | 'obstacles' | 'portals'
}

/** Cars hang over the edge of the benchwork, the track itself does not. */
export interface OverEdge {
  readonly kind: 'overEdge'
}

/** A maker cannot bring what it made in line with its track any more. */
export interface MakerStays {
  readonly kind: 'makerStays'
  readonly problem: MakerProblem
}

/** A record that a finding of another table has to do with. */
export interface RoomRecord {
  readonly table: TableName
  readonly record: Id
}

/** What is the matter with the room, its floor or what stands in it. */
export type RoomFault =
  /** across: what stands on the other side of the narrow place. */
  | { readonly kind: 'aislePinch'; readonly across: RoomRecord | null }
  | { readonly kind: 'floorCutOff' }
  | { readonly kind: 'doorMeets'; readonly by: RoomRecord }
  | { readonly kind: 'hatchOffBench' }
  | { readonly kind: 'hatchUnderTrack'; readonly by: RoomRecord }
  | { readonly kind: 'benchRunsInto'; readonly by: RoomRecord }

/** A joint of the builder's where the rules of laying forbid one; all the rules that do, or one across the track too near to it. */
export type JointFault = { readonly kind: 'jointNear'; readonly what: readonly JointRule[] } | { readonly kind: 'jointsAcross' }

/** Where a line goes on into another track it turns, left positive as one leaves the first one, or a gap is left. */
export interface JointOff {
  readonly kind: 'jointOff'
  readonly gapMm: number
  readonly kinkRad: number
}

/** Radii that a corner can have, in whole tenths of a mm, with its easements as typed or by class. */
export interface RadiusRoom {
  /** Index of the corner in its track. */
  readonly corner: number
  readonly radiusMm: number
  /** The least, with which its easements turn no more than the corner; null: they have no least. */
  readonly leastMm: number | null
  /** The largest that the sides have room for; null: they have room for none. */
  readonly mostMm: number | null
  /** Least radius of the class. */
  readonly classMm: number
}

/** The plan works and breaks a limit: where, by how much, against what. Lengths mm, angles rad. */
export interface Finding {
  /** Stable while the same thing stays wrong: rule and records. */
  readonly id: string
  readonly rule: RuleName
  readonly severity: Severity
  readonly stage: Stage
  readonly table: TableName
  readonly record: Id
  readonly otherRecord: Id | null
  readonly corner: Id | null
  readonly stationFromMm: number | null
  readonly stationToMm: number | null
  readonly x: number
  readonly y: number
  readonly measured: number | null
  readonly limit: number | null
  readonly unit: 'mm' | 'rad' | 'number'
  /** Key of the source of the limit, e.g. 'class:main', 'NMRA-S-3.2'. */
  readonly source: string
  readonly problem:
    | AlignmentProblem
    | PlacementProblem
    | OutlineProblem
    | TurnoutOverlap
    | TurnoutOverCrossing
    | TurnoutTiesMeet
    | EasementEndUnder
    | JoistUnderThrow
    | TiesOverEdge
    | CrossingFault
    | CheckDimensionFault
    | CarLengths
    | CouplersSwing
    | CurvesInARow
    | LevelCrossing
    | LowOverpass
    | RoadbedsMeet
    | NearFixed
    | OverEdge
    | MakerStays
    | JointFault
    | JointOff
    | RoomFault
    | null
  readonly cure: Cure | null
  /** Cures that would do as well, after the first. */
  readonly others?: readonly Cure[]
  /** Of a curve that does not fit: the radii that would. */
  readonly room?: RadiusRoom
  /** What is told elsewhere and comes first: once that is mended this is. */
  readonly waitsFor?: Pick<Finding, 'id' | 'table' | 'record'>
}
