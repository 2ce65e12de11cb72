import type { Id } from './types.ts'

// Turnouts and crossings as the builder wants them. Lengths mm on the model.

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
