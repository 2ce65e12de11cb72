import type { Point } from '../geom/types.ts'
import type { Guide, Lock, Reading, Underlay } from './aids.ts'
import type { LayingRules, Material, RailJoint, RailSize, Roadbed, Stock, Tick, TieSize } from './laying.ts'

export type * from './aids.ts'
export type * from './laying.ts'

export type Id = string

/** A value that the builder typed, or 'class': taken from the line class. */
export type ByClass = number | 'class'

/** How the easement of a corner is chosen from its radius. */
export type EasementRule =
  | { readonly kind: 'none' }
  | { readonly kind: 'length'; readonly lengthMm: number }
  | { readonly kind: 'shift'; readonly shiftMm: number }

export type FrogDefinition = 'isosceles' | 'tangent'

/** The railway as a whole: what scale, what gauge, what rail. Lengths in mm on the model. */
export interface Railway {
  readonly title: string
  /** Towards north in the plan, from its x axis; null: not known. */
  readonly northRad: number | null
  /** Key of a row in core/standards, or 'custom'. */
  readonly scaleKey: string
  /** Prototype length / model length, e.g. 87.1. */
  readonly ratio: number
  readonly gaugeMm: number
  readonly flangewayMm: number
  readonly checkGaugeMm: number
  readonly railCode: number
  readonly railHeadMm: number
  readonly railFootMm: number
  readonly frogDefinition: FrogDefinition
  /** Tie of full-width track: prototype sizes already scaled to the model. */
  readonly tieLengthMm: number
  readonly tieWidthMm: number
  readonly tieThicknessMm: number
  /** Nearest track may come to the benchwork edge: centreline to edge. */
  readonly edgeMarginMm: number
  /** Running clearance kept between two cars on neighbouring tracks. */
  readonly runningClearanceMm: number
  /** Separation of centrelines at the fouling point. */
  readonly foulingMm: number
  /** How far a hand reaches from where a person stands. */
  readonly reachMm: number
  /** Narrowest way that a person goes through. */
  readonly aisleMm: number
  /** Least side of a hatch to stand up in. */
  readonly hatchMm: number
  readonly laying: LayingRules
}

/** The gauge is widened by so much where a route is sharper than this radius. */
export interface WideningStep {
  readonly belowRadiusMm: number
  readonly byMm: number
}

/** How a rule of the checks is told on the tracks of a class. */
export type RuleLevel = 'error' | 'warning' | 'off'

export interface LineClass {
  readonly id: Id
  readonly name: string
  readonly minRadiusMm: number
  /** What 'class' means for the radius of a corner; at least the minimum. */
  readonly usualRadiusMm: number
  readonly easement: EasementRule
  readonly minFrog: number
  readonly usualFrog: number
  readonly trackCentresMm: number
  readonly tieSpacingMm: number
  readonly maxGrade: number
  /** The worst that runs here: what clearance, couplers and lengths are held against. Empty: no car is known. */
  readonly cars: readonly Id[]
  /** Shortest curve that is wanted, its easements counted in; 0: any. */
  readonly minCurveMm: number
  /** Of the steps that apply to a radius the widest counts; empty: the gauge stays as it is. */
  readonly widening: readonly WideningStep[]
  /** By the name of the rule; a rule that is not named is told as usual. */
  readonly rules: { readonly [rule: string]: RuleLevel }
  /** A curve's radius is to be so many times the longest of `cars`, over its couplers; 0: the rule is not held. */
  readonly curveCarLengths: number
  /** The same where cars are coupled; 0: nothing is coupled on tracks of this class. */
  readonly couplingCarLengths: number
  readonly rail: RailSize | 'railway'
  readonly tie: TieSize | 'railway'
  /** Ties beside a rail joint; null: as far apart as elsewhere. */
  readonly jointTieSpacingMm: number | null
  /** null: track is laid on the deck itself. */
  readonly roadbed: Roadbed | null
  /** Outer rail above the inner one on the arcs of this class; 0: level. */
  readonly superelevationMm: number
}

/** A body on two trucks, or on two axles (truckWheelbaseMm 0, truckCentresMm axle to axle). */
export interface CarFrame {
  readonly kind: 'car'
  readonly lengthMm: number
  readonly widthMm: number
  readonly truckCentresMm: number
  /** First axle to last axle of one truck. */
  readonly truckWheelbaseMm: number
  /** Ends that grow narrower: how wide at the very end, and over what length. null: as wide as the rest. */
  readonly taper: { readonly endWidthMm: number; readonly lengthMm: number } | null
}

/** A place along an engine, counted forwards from its last driver, and how wide it is there. */
export interface FrameWidth {
  readonly aheadMm: number
  readonly widthMm: number
}

/**
 * A frame held by its drivers: the first and the last of them stand on the line. Lead and trail trucks carry it and swing under it;
 * they do not steer it.
 */
export interface DriverFrame {
  readonly kind: 'drivers'
  /** First driver to last driver. */
  readonly wheelbaseMm: number
  /** Cab, running board, cylinders, pilot beam; in any order. */
  readonly widths: readonly FrameWidth[]
}

export type VehicleFrame = CarFrame | DriverFrame

/** A car or an engine, mm on the model. */
export interface Vehicle {
  readonly id: Id
  readonly name: string
  /** Whyte's count of wheels for steam: 2-8-0. null: none. */
  readonly wheels: string | null
  /** Over coupler faces, tender included; over buffers where there are buffers. */
  readonly overCouplersMm: number
  readonly heightMm: number
  /** 0: not known. */
  readonly weightG: number
  /** How far a coupler swings to each side. */
  readonly couplerSwingRad: number
  /** Front first; each stands on the line for itself. */
  readonly frames: readonly VehicleFrame[]
}

/** Walls as they were measured; a polyline, drawn with its thickness to the right of its direction. */
export interface Wall {
  readonly id: Id
  readonly name: string
  readonly points: readonly Point[]
  readonly thicknessMm: number
  readonly isClosed: boolean
}

/** A post, chimney or furnace, or a pipe that hangs low: a closed outline that nothing may enter. */
export interface Obstacle {
  readonly id: Id
  readonly name: string
  readonly outline: readonly Point[]
  /** From the floor to where it begins; 0: it stands on the floor. */
  readonly undersideMm: number
}

/** A piece of benchwork: outline with holes, each a ring of three or more points without repetition of the first. */
export interface Benchwork {
  readonly id: Id
  readonly name: string
  readonly outline: readonly Point[]
  readonly holes: readonly (readonly Point[])[]
  readonly heightMm: number
}

/** The leaf of a door: hinged where the opening begins or ends along its wall, and the side of the wall's direction to which it opens. */
export interface DoorLeaf {
  readonly hinge: 'from' | 'to'
  readonly side: 'left' | 'right'
}

/** A door, a passage or a window in a wall: from so far along the wall's line. */
export interface Opening {
  readonly id: Id
  readonly name: string
  readonly wall: Id
  readonly fromMm: number
  readonly widthMm: number
  /** null: a passage, or a window. */
  readonly leaf: DoorLeaf | null
  /** From the floor to the sill of a window; null: open down to the floor. */
  readonly sillMm: number | null
}

/** A place within the benchwork where a person can stand up. */
export interface Hatch {
  readonly id: Id
  readonly name: string
  readonly outline: readonly Point[]
}

/** Timber under the deck, or a riser: nothing can be drilled through it or hung under it. */
export interface Joist {
  readonly id: Id
  readonly name: string
  readonly from: Point
  readonly to: Point
  readonly widthMm: number
}

/** An opening that a track runs through: a portal, a hole in a wall, a girder bridge. Sides as seen along the track, from its centreline. */
export interface Portal {
  readonly id: Id
  readonly name: string
  readonly track: Id
  /** Where it begins. */
  readonly stationMm: number
  readonly lengthMm: number
  readonly leftMm: number
  readonly rightMm: number
  readonly heightMm: number
}

/** A finding that the builder has looked at and lives with, and why. */
export interface Silence {
  readonly id: Id
  readonly rule: string
  readonly table: string
  readonly record: string
  readonly otherRecord: string | null
  /** null: wherever it is on the record. */
  readonly stationMm: number | null
  readonly reason: string
}

/** What an arc of a compound curve turns: a fixed angle, or its share of what the fixed ones and the easements leave of the corner. */
export type ArcTurn = { readonly kind: 'angle'; readonly turnRad: number } | { readonly kind: 'share'; readonly share: number }

export interface CompoundArc {
  readonly radius: ByClass
  readonly turn: ArcTurn
}

/** A further arc with the easement that leads into it from the arc before. */
export interface CompoundNextArc extends CompoundArc {
  readonly easement: ByClass
}

/** A curve of several radii, all of one hand. */
export interface CompoundCurve {
  readonly first: CompoundArc
  readonly next: readonly CompoundNextArc[]
}

/** A PI with its curve. radius 'easement-only': the two easements meet and no arc is left. */
export interface Corner extends Point {
  readonly id: Id
  readonly radius: ByClass | 'easement-only' | CompoundCurve
  readonly easementIn: ByClass
  readonly easementOut: ByClass
}

/** Where a track starts from a turnout: on its diverging route, or on the second one of a wye or three-way turnout. */
export type TurnoutLeg = 'diverging' | 'other'

/**
 * Where a track begins or ends. At a leg the first (last) PI slides on the leg's tangent: the stored PI is
 * projected on it. 'closed' (only as end): the traverse returns to the first PI and `start` is the point of the
 * tangent between the last and the first PI that is nearest to the stored start point; station zero lies there.
 */
export type FreeEnd = { readonly kind: 'free'; readonly x: number; readonly y: number }
export type LegEnd = { readonly kind: 'leg'; readonly turnout: Id; readonly leg: TurnoutLeg }
export type TrackStart = FreeEnd | LegEnd
export type TrackEnd = FreeEnd | LegEnd | { readonly kind: 'closed' }

export interface Track {
  readonly id: Id
  readonly name: string
  readonly lineClass: Id
  readonly start: TrackStart
  readonly corners: readonly Corner[]
  readonly end: TrackEnd
}

/** Which way one must travel to meet the points first. */
export type Facing = 'rising' | 'falling'
export type Hand = 'left' | 'right'

/** Build of a turnout; 'standard': taken from gauge, frog number and prototype practice. Lengths mm on the model. */
export interface TurnoutBuild {
  readonly points: 'straight' | 'curved'
  readonly pointLengthMm: number | 'standard'
  readonly pointThicknessMm: number | 'standard'
  readonly heelSpreadMm: number | 'standard'
  readonly toeLengthMm: number | 'standard'
  readonly heelLengthMm: number | 'standard'
  /** Absent: square to the host, evenly, all of wood. */
  readonly ties?: TieChoice
}

/** square: every tie square to the host, bent or not. fanned: square to the bisector of the outermost routes there. */
export type TieLay = 'square' | 'fanned'

/** Where a turnout has PC-board ties: every nth, and at chosen places. */
export interface BoardPattern {
  /** Counted from the first tie; null: none by count. */
  readonly every: number | null
  readonly at: readonly BoardPlace[]
}

export type BoardPlace = 'tips' | 'heel' | 'toe' | 'frog' | 'gaps'

/** How the ties of a turnout are laid. close: nearer to each other under points and frogs. */
export interface TieChoice {
  readonly lay: TieLay
  readonly spacing: 'even' | 'close'
  readonly board: BoardPattern | null
}

/**
 * plain: one route diverges from the host, straight or bent. wye: both routes diverge, `share` of the frog angle to the hand; it
 * stands at the end of its track. three-way: a second route diverges, to the other hand; `secondAfterMm` 0: at the same place, else
 * lapped by as much. stub: no points; the host's own rails are moved.
 */
export type TurnoutKind =
  | { readonly kind: 'plain' }
  | { readonly kind: 'wye'; readonly share: number }
  | { readonly kind: 'three-way'; readonly secondFrog: number; readonly secondAfterMm: number }
  | { readonly kind: 'stub' }

export interface Turnout {
  readonly id: Id
  readonly name: string
  readonly kind: TurnoutKind
  readonly track: Id
  /** Station of the point of switch on its track. */
  readonly stationMm: number
  readonly facing: Facing
  /** As seen by one who faces the points. */
  readonly hand: Hand
  readonly frog: number
  readonly build: TurnoutBuild
}

/** Curves from one track of a crossing to the other, on the left or the right as seen along the first one. */
export type SlipChoice = 'none' | 'single-left' | 'single-right' | 'double'

export interface CrossingBuild {
  /** fixed: the obtuse frogs are bent rails and points; movable: their points move. */
  readonly elbow: 'fixed' | 'movable'
  readonly pointThicknessMm: number | 'standard'
  readonly heelSpreadMm: number | 'standard'
}

/**
 * What the builder chose for a place where two tracks cross at one level. The place itself is found, not placed: of the places
 * where these tracks meet the one nearest to the stations is meant. `track` is the first track of the crossing.
 */
export interface Crossing {
  readonly id: Id
  readonly name: string
  readonly track: Id
  readonly other: Id
  readonly stationMm: number
  readonly otherStationMm: number
  readonly slip: SlipChoice
  readonly build: CrossingBuild
}

/** What a maker wrote, part by part in an order of its own: the same part keeps its id when the numbers change. */
export interface Made {
  readonly tracks: readonly Id[]
  readonly turnouts: readonly Id[]
}

/** Which end of a track. */
export type TrackEndName = 'start' | 'end'

/** Between two parallel tracks. single: one of this hand; double: one of this hand, then one of the other; scissors: both on one stretch. */
export interface CrossoverNumbers {
  readonly kind: 'crossover'
  readonly track: Id
  readonly otherTrack: Id
  /** Middle of the crossover, on `track`. */
  readonly stationMm: number
  readonly hand: Hand
  readonly frog: number
  readonly layout: 'single' | 'double' | 'scissors'
}

/** A track beside its host that leaves and joins it again; also round curves. */
export interface SidingNumbers {
  readonly kind: 'siding'
  readonly track: Id
  /** Points of the two turnouts, on the host. */
  readonly fromMm: number
  readonly toMm: number
  /** Seen along rising station. */
  readonly side: Hand
  readonly centresMm: number
  /** Beside curves, where cars swing out. */
  readonly curveCentresMm: number
  readonly frogFrom: number
  readonly frogTo: number
}

/** A track that leaves its host and ends. */
export interface SpurNumbers {
  readonly kind: 'spur'
  readonly track: Id
  /** Points, on the host. */
  readonly stationMm: number
  readonly facing: Facing
  readonly side: Hand
  readonly frog: number
  /** Runs beside the host at these centres, or away from it at this angle. */
  readonly course: { readonly kind: 'parallel'; readonly centresMm: number } | { readonly kind: 'angle'; readonly angleRad: number }
  /** Straight behind its curve. */
  readonly lengthMm: number
}

/** Body tracks that hang on a ladder. */
export interface YardNumbers {
  readonly kind: 'yard'
  readonly track: Id
  /** Points of the turnout that leads into the ladder, on the host. */
  readonly stationMm: number
  readonly facing: Facing
  readonly side: Hand
  readonly frog: number
  /** Body tracks; the host is none of them. */
  readonly tracks: number
  /** Host to the first body track. */
  readonly leadCentresMm: number
  readonly centresMm: number
  /** Straight of the shortest body track. */
  readonly bodyMm: number
  /** compound: a second ladder leaves the first one at its foot. */
  readonly ladder: 'straight' | 'compound'
  readonly ends: 'stub' | 'double'
}

/** Three turnouts in a triangle: two on the host, one on the tail. */
export interface WyeNumbers {
  readonly kind: 'wye'
  readonly track: Id
  /** The tail, on the host. */
  readonly stationMm: number
  readonly side: Hand
  readonly frog: number
  readonly tailFrog: number
  readonly radius: ByClass
  /** Straight of the tail behind its points. */
  readonly tailMm: number
}

/** A turnout at the end of a track whose two ways out are joined by a loop. */
export interface LoopNumbers {
  readonly kind: 'loop'
  readonly track: Id
  readonly end: TrackEndName
  /** Of the turnout, as seen by one who goes into the loop. */
  readonly hand: Hand
  readonly frog: number
  readonly radius: ByClass
  /** Between the reverse curves. */
  readonly straightMm: number
}

/** A half circle from the end of one track to the end of another beside it. */
export interface TurnbackNumbers {
  readonly kind: 'turnback'
  readonly track: Id
  readonly end: TrackEndName
  readonly otherTrack: Id
  readonly otherEnd: TrackEndName
}

/** How wide a helix is: its radius, or all the room there is for it across, margins of the benchwork included. */
export type HelixSize = { readonly kind: 'radius'; readonly radius: ByClass } | { readonly kind: 'across'; readonly acrossMm: number }

/** How steeply a helix climbs: railhead to railhead in one turn; what is to be clear over the railhead; or its grade. */
export type HelixRise =
  | { readonly kind: 'perTurn'; readonly riseMm: number }
  | { readonly kind: 'clear'; readonly clearMm: number }
  | { readonly kind: 'grade'; readonly grade: number }

/** Turns over each other behind the end of a track. How high it comes is known to these numbers only: a plan has no elevations yet. */
export interface HelixNumbers {
  readonly kind: 'helix'
  readonly track: Id
  readonly end: TrackEndName
  /** To which side it turns. */
  readonly hand: Hand
  readonly size: HelixSize
  /** From the railhead at one end to the railhead at the other. */
  readonly climbMm: number
  readonly rise: HelixRise
  /** Deck, roadbed and ties: what lies between a rail and the clear height under it. */
  readonly deckMm: number
  /** Leaves where the climb is done; or after whole turns at this angle from the way in, measured as it turns. */
  readonly exit: { readonly kind: 'asClimb' } | { readonly kind: 'angle'; readonly angleRad: number }
  /** Straight behind it. */
  readonly straightMm: number
}

export type MakerNumbers =
  | CrossoverNumbers
  | SidingNumbers
  | SpurNumbers
  | YardNumbers
  | WyeNumbers
  | LoopNumbers
  | TurnbackNumbers
  | HelixNumbers

/**
 * Writes tracks and turnouts from a few numbers. What it made are ordinary records that say what they are by themselves; their geometry
 * follows the numbers until the maker is taken apart.
 */
export interface Maker {
  readonly id: Id
  readonly name: string
  /** Class of the tracks that it makes. */
  readonly lineClass: Id
  readonly numbers: MakerNumbers
  readonly made: Made
}

export type Table<R> = { readonly [id: Id]: R }

/** Record type of each table; the one list of tables there is. */
export interface PlanTables {
  readonly materials: Material
  readonly stocks: Stock
  readonly lineClasses: LineClass
  readonly vehicles: Vehicle
  readonly walls: Wall
  readonly obstacles: Obstacle
  readonly openings: Opening
  readonly benchworks: Benchwork
  readonly hatches: Hatch
  readonly joists: Joist
  readonly tracks: Track
  readonly turnouts: Turnout
  readonly crossings: Crossing
  readonly portals: Portal
  readonly railJoints: RailJoint
  readonly makers: Maker
  readonly silences: Silence
  readonly ticks: Tick
  readonly guides: Guide
  readonly readings: Reading
  readonly underlays: Underlay
  readonly locks: Lock
}
export type TableName = keyof PlanTables
export type AnyRecord = PlanTables[TableName]

/** The document: intent only, never results. Unknown keys of a file live on in the records that carried them. */
export type Plan = {
  readonly format: 'waybench-plan'
  readonly version: number
  readonly railway: Railway
} & { readonly [T in TableName]: Table<PlanTables[T]> }
