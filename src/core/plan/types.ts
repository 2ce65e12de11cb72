import type { Point } from '../geom/types.ts'
import type { Guide, Lock, Reading, Underlay } from './aids.ts'
import type { LayingRules, Material, RailJoint, RailSize, Roadbed, Stock, Tick, TieSize } from './laying.ts'
import type { Maker } from './makers.ts'
import type { Benchwork, Hatch, Joist, Obstacle, Opening, Portal, Wall } from './room.ts'
import type { Crossing, Turnout } from './turnouts.ts'
import type { Vehicle } from './vehicles.ts'

export type * from './aids.ts'
export type * from './laying.ts'
export type * from './makers.ts'
export type * from './room.ts'
export type * from './turnouts.ts'
export type * from './vehicles.ts'

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
