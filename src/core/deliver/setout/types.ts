import type { CornerPlace } from '../../alignment/types.ts'
import type { Path, Point, Pose } from '../../geom/types.ts'
import type { Id, Plan } from '../../plan/types.ts'
import type { DrawItem } from '../types.ts'

export type SetoutMethod = 'offset' | 'chord' | 'edge' | 'deflection' | 'trammel' | 'tie-in' | 'stick' | 'lath'

/** The marks of the rule in hand: lengths are rounded to them. */
export type RuleMarks =
  | { readonly units: 'imperial'; readonly perInch: 16 | 32 | 64 }
  | { readonly units: 'metric'; readonly stepMm: 0.1 | 0.5 | 1 }

/** What a table may be measured from: walls, what stands in the room, benchwork. */
export type SetoutRoom = Pick<Plan, 'walls' | 'obstacles' | 'benchworks'>

/** A solved line and the room it lies in. Gauge in mm: the stick may lie against the outer rail. */
export interface SetoutSubject {
  readonly path: Path
  readonly corners: readonly CornerPlace[]
  readonly isClosed: boolean
  readonly gaugeMm: number
  readonly room: SetoutRoom
}

/** One side of a wall, of an outline of benchwork or of a hole in it. ring -1: the outline or the wall, 0 and up: a hole. */
export interface EdgeRef {
  readonly table: 'walls' | 'benchworks'
  readonly id: Id
  readonly ring: number
  readonly edge: number
}

export interface SetoutEdge extends EdgeRef {
  readonly name: string
  readonly a: Point
  readonly b: Point
}

/** A corner of a wall or of benchwork, to hook a tape to. */
export interface FixedPoint extends Point {
  readonly name: string
}

/** How a table is made; lengths mm, > 0. */
export type SetoutBy =
  /** Along the tangents of each corner, from TS (and ST) or from the PI. */
  | { readonly kind: 'offset'; readonly datum: 'TS' | 'PI' }
  | { readonly kind: 'chord' }
  /** Of all sides, or those of one record, the one that faces most of the stretch from near by. */
  | { readonly kind: 'edge'; readonly edge: EdgeRef | Pick<EdgeRef, 'table' | 'id'> | null }
  /** 'curves': set up where each curve and easement begins; 'start': once, where the stretch begins. */
  | { readonly kind: 'deflection'; readonly instrument: 'curves' | 'start' }
  | { readonly kind: 'trammel' }
  | { readonly kind: 'tie-in' }
  | { readonly kind: 'stick'; readonly chordMm: number }
  /** Pins hold the lath over this length on the tangent and again on the arc. */
  | { readonly kind: 'lath'; readonly pinnedMm: number }

export interface SetoutRequest {
  readonly by: SetoutBy
  /** Stretch of the line by stations; null: its start, its end. */
  readonly fromMm: number | null
  readonly toMm: number | null
  /** Even steps: along the base, or of stations, or of chords, as the method has it. */
  readonly stepMm: number
  readonly marks: RuleMarks
  /** Finest angle that the instrument reads, rad. */
  readonly angleStepRad: number
}

export type ColumnKey =
  | 'along'
  | 'offset'
  | 'deflection'
  | 'chord'
  | 'longChord'
  | 'centreX'
  | 'centreY'
  | 'radius'
  | 'startAngle'
  | 'endAngle'
  | 'tieA'
  | 'tieB'
  | 'ordinate'
  | 'outerRailOrdinate'
  | 'tangent'
  | 'turn'
  | 'pinsApart'
  | 'freeLength'
  | 'shift'

/** What is measured. isSided: the sign is a side, + left. */
export interface SetoutColumn {
  readonly key: ColumnKey
  readonly words: string
  readonly unit: 'mm' | 'rad'
  readonly isSided: boolean
}

/** The true value, and the one to set on the rule or the instrument. */
export interface SetoutValue {
  readonly exact: number
  readonly rounded: number
}

/** A value that belongs to the base as a whole: length of the chord, shift of the easement. */
export interface SetoutFact extends SetoutValue {
  readonly column: SetoutColumn
}

/** One place to mark. values stand in the order of the columns. */
export interface SetoutRow {
  readonly stationMm: number
  /** TS, SC …; empty for a place at an even step. */
  readonly name: string
  /** The place itself, in the plan. */
  readonly at: Point
  readonly values: readonly SetoutValue[]
  /** How far from its place the point comes when the rounded values are plotted, mm. */
  readonly errorMm: number
}

/** Whether one can stand a trammel on a centre. */
export type CentreReach =
  | { readonly kind: 'benchwork'; readonly name: string }
  /** In the room, beside all benchwork: a stand is needed. */
  | { readonly kind: 'floor' }
  | { readonly kind: 'obstacle'; readonly name: string }
  | { readonly kind: 'wall'; readonly name: string }
  | { readonly kind: 'outside'; readonly name: string }

/**
 * What is measured from. Frames: origin where the measuring begins, x along the base, y to its left.
 * Instrument: x is the tangent that deflections are counted from.
 */
export type SetoutBase =
  | { readonly kind: 'tangent'; readonly corner: number; readonly side: 'in' | 'out'; readonly datum: string; readonly frame: Pose }
  | { readonly kind: 'chord'; readonly frame: Pose }
  | { readonly kind: 'edge'; readonly edge: SetoutEdge; readonly frame: Pose }
  | { readonly kind: 'instrument'; readonly name: string; readonly stationMm: number; readonly frame: Pose }
  | {
      readonly kind: 'centre'
      readonly centre: Point
      readonly toStationMm: number
      readonly pins: readonly [FixedPoint, FixedPoint] | null
      /** Side of the line from the first pin to the second on which the centre lies. */
      readonly side: 'left' | 'right' | null
      readonly reach: CentreReach
      /** What the bar would strike on its way along the arc. */
      readonly barBlockedBy: string | null
    }
  | { readonly kind: 'pins'; readonly pins: readonly [FixedPoint, FixedPoint]; readonly side: 'left' | 'right' }
  | { readonly kind: 'stick'; readonly chordMm: number }
  | {
      readonly kind: 'lath'
      readonly side: 'in' | 'out'
      readonly fromStationMm: number
      readonly toStationMm: number
      readonly frame: Pose
    }

export interface SetoutGroup {
  readonly base: SetoutBase
  readonly title: string
  readonly facts: readonly SetoutFact[]
  readonly columns: readonly SetoutColumn[]
  readonly rows: readonly SetoutRow[]
}

/** Something to know before one starts. */
export type SetoutNote =
  /** Between base and line stands something that a tape does not pass. */
  | { readonly kind: 'sightBlocked'; readonly stationMm: number; readonly by: string; readonly rows: number }
  /** Less than the asked length is straight ahead of the easement, or arc behind it. */
  | { readonly kind: 'shortTangent' | 'shortArc'; readonly stationMm: number; readonly haveMm: number; readonly wantMm: number }
  /** No two fixed points give a good crossing here. */
  | { readonly kind: 'noCrossing'; readonly stationMm: number; readonly rows: number }
  | { readonly kind: 'noPins'; readonly stationMm: number }
  /** The stick does not lie on the line with both of its ends. */
  | { readonly kind: 'stickRunsOff'; readonly rows: number }

/** Drawing of what to measure, in its own frame: mm from the lower left corner, y up. */
export interface SetoutFigure {
  readonly widthMm: number
  readonly heightMm: number
  readonly items: readonly DrawItem[]
}

export interface SetoutTable {
  readonly method: SetoutMethod
  readonly fromMm: number
  readonly toMm: number
  readonly marks: RuleMarks
  readonly groups: readonly SetoutGroup[]
  /** Largest of the rows. */
  readonly errorMm: number
  readonly notes: readonly SetoutNote[]
  readonly figure: SetoutFigure
}

export type SetoutProblem =
  | { readonly kind: 'notFinite'; readonly where: string }
  | { readonly kind: 'stretchOutside'; readonly atMm: number; readonly lengthMm: number }
  | { readonly kind: 'stretchEmpty'; readonly fromMm: number; readonly toMm: number }
  | { readonly kind: 'notPositive'; readonly what: 'step' | 'chord' | 'pinned' | 'angleStep'; readonly value: number }
  | { readonly kind: 'tooManyRows'; readonly rows: number; readonly most: number }
  | { readonly kind: 'noCorner' | 'noCurve' | 'noArc' | 'noEasement' }
  | { readonly kind: 'chordWithoutLength' }
  /** The line turns back over its chord at this station. */
  | { readonly kind: 'chordFolds'; readonly stationMm: number }
  | { readonly kind: 'noEdges' }
  | { readonly kind: 'edgeMissing' }
  | { readonly kind: 'edgeNotFacing'; readonly name: string | null }
  /** The step is no chord of a curve this sharp. */
  | { readonly kind: 'stepTooLong'; readonly stepMm: number; readonly stationMm: number }
  /** From this station on, chord and sight cross too flatly: the instrument must be moved. */
  | { readonly kind: 'sightTooFlat'; readonly stationMm: number }
  | { readonly kind: 'tooFewFixedPoints'; readonly have: number }
  | { readonly kind: 'noCrossing' }
  | { readonly kind: 'stickLongerThanLine'; readonly chordMm: number; readonly lengthMm: number }
  /** At no even step does it lie with both ends on the line. */
  | { readonly kind: 'stickRunsOff'; readonly chordMm: number }
  | { readonly kind: 'stickTooLong'; readonly chordMm: number; readonly mostMm: number; readonly radiusMm: number }

export type SetoutResult = { readonly ok: true; readonly table: SetoutTable } | { readonly ok: false; readonly problem: SetoutProblem }
