import type { Point } from '../geom/types.ts'

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
  /** Nearest track may come to the benchwork edge: centreline to edge. */
  readonly edgeMarginMm: number
  /** Running clearance kept between two cars on neighbouring tracks. */
  readonly runningClearanceMm: number
  /** Separation of centrelines at the fouling point. */
  readonly foulingMm: number
}

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
  /** The car whose overhang the clearance check uses; null: none. */
  readonly clearanceCar: Id | null
}

export interface Vehicle {
  readonly id: Id
  readonly name: string
  readonly bodyLengthMm: number
  readonly bodyWidthMm: number
  readonly truckCentresMm: number
  readonly truckWheelbaseMm: number
}

/** Walls as they were measured; a polyline, drawn with its thickness to the right of its direction. */
export interface Wall {
  readonly id: Id
  readonly name: string
  readonly points: readonly Point[]
  readonly thicknessMm: number
  readonly isClosed: boolean
}

/** A post, chimney or furnace: a closed outline that nothing may enter. */
export interface Obstacle {
  readonly id: Id
  readonly name: string
  readonly outline: readonly Point[]
}

/** A piece of benchwork: outline with holes, each a ring of three or more points without repetition of the first. */
export interface Benchwork {
  readonly id: Id
  readonly name: string
  readonly outline: readonly Point[]
  readonly holes: readonly (readonly Point[])[]
  readonly heightMm: number
}

/** A PI with its curve. radius 'easement-only': the two easements meet and no arc is left. */
export interface Corner extends Point {
  readonly id: Id
  readonly radius: ByClass | 'easement-only'
  readonly easementIn: ByClass
  readonly easementOut: ByClass
}

export type TurnoutLeg = 'diverging'

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
}

export interface Turnout {
  readonly id: Id
  readonly name: string
  readonly track: Id
  /** Station of the point of switch on its track. */
  readonly stationMm: number
  readonly facing: Facing
  /** As seen by one who faces the points. */
  readonly hand: Hand
  readonly frog: number
  readonly build: TurnoutBuild
}

export type Table<R> = { readonly [id: Id]: R }

/** Record type of each table; the one list of tables there is. */
export interface PlanTables {
  readonly lineClasses: LineClass
  readonly vehicles: Vehicle
  readonly walls: Wall
  readonly obstacles: Obstacle
  readonly benchworks: Benchwork
  readonly tracks: Track
  readonly turnouts: Turnout
}
export type TableName = keyof PlanTables
export type AnyRecord = PlanTables[TableName]

/** The document: intent only, never results. Unknown keys of a file live on in the records that carried them. */
export type Plan = {
  readonly format: 'waybench-plan'
  readonly version: number
  readonly railway: Railway
} & { readonly [T in TableName]: Table<PlanTables[T]> }
  readonly makers: Maker
