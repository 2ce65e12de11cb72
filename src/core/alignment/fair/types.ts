import type { Point } from '../../geom/types.ts'
import type { EasementRule, Id } from '../../plan/types.ts'
import type { AlignmentProblem, Traverse } from '../types.ts'

/**
 * A chain of straight edges that the line must keep away from: edge of the benchwork, wall, obstacle, another track.
 * A ring repeats its first point. keepsMm: for each edge the least distance of the centreline from it; 0: the edge does not matter.
 */
export interface CorridorChain {
  readonly points: readonly Point[]
  readonly keepsMm: readonly number[]
  /** Whatever the maker of the corridor wants to hear again when the line touches this chain. */
  readonly label: string
}

/** Where a line may run: nearer to no chain than that chain asks. Without chains it may run anywhere. */
export interface Corridor {
  readonly chains: readonly CorridorChain[]
}

/**
 * A PI to be eased. radiusMm null: easement-only; then its easements are numbers, and grow in their proportion. Easements 'class'
 * follow the rule for whatever the radius becomes.
 */
export interface FairCorner extends Point {
  /** null: a corner that easing has put in. */
  readonly id: Id | null
  readonly radiusMm: number | null
  readonly easementIn: number | 'class'
  readonly easementOut: number | 'class'
}

/**
 * A stretch of a side that must stay where it is, straight: a turnout sits on it. Stations count along the side from its first
 * point as given (start or PI).
 */
export interface HeldStretch {
  readonly side: number
  readonly fromMm: number
  readonly toMm: number
}

export interface FairRequest {
  readonly start: Traverse['start']
  readonly corners: readonly FairCorner[]
  readonly end: Traverse['end']
  /** What the class gives for an easement that is 'class'. */
  readonly easementRule: EasementRule
  readonly held: readonly HeldStretch[]
  /** Corners that must stay as they are, with both their sides: a turnout sits on the curve. */
  readonly heldCorners: readonly number[]
  readonly corridor: Corridor
  /**
   * How far the line keeps from its own other parts where it comes back beside itself, mm (to 0.1 mm); where it is nearer as given, so
   * far as it is there. 0: it may do as it likes.
   */
  readonly selfKeepMm: number
  /** Rounds of improvement at most: the budget, for the core has no clock. Some hundred are a few seconds. */
  readonly roundsMost: number
}

export type FairProblem =
  /** The line as given does not work out by itself. */
  | { readonly kind: 'lineUnsolved'; readonly problems: readonly AlignmentProblem[] }
  /** A compound curve is made by hand and would be lost: easing knows one radius a corner. */
  | { readonly kind: 'compoundCurve'; readonly corner: number }
  /** Nothing turns: there is no radius to be made larger. */
  | { readonly kind: 'noCurve' }
  /** The line as given is already nearer to a chain than it asks. by: how much is missing there. */
  | { readonly kind: 'outside'; readonly at: Point; readonly stationMm: number; readonly byMm: number; readonly label: string }
  | { readonly kind: 'notFinite'; readonly where: string }
  /** The linear program came back without an answer; says: in the solver's own word. */
  | { readonly kind: 'solverFailed'; readonly says: string }

/** What is compared before and after. */
export interface FairMeasure {
  readonly minRadiusMm: number
  /** Integral of |change of curvature| over the line, 1/mm: every curve counts twice its curvature. */
  readonly curvatureVariation: number
  readonly lengthMm: number
  readonly corners: number
}

/** What holds the eased line, by rising station. */
export type FairBind =
  /** It runs as near to a chain as it may; places closer together than a hand's breadth are one stretch. */
  | { readonly kind: 'chain'; readonly fromMm: number; readonly toMm: number; readonly label: string }
  /** Two curves meet, or a curve meets the end of the line: the side has no more room. */
  | { readonly kind: 'side'; readonly fromMm: number; readonly toMm: number }
  /** A curve reaches up to a held stretch. */
  | { readonly kind: 'held'; readonly fromMm: number; readonly toMm: number }

/**
 * A radius that no line in this corridor can exceed.
 * inscribedDisc: a closed line without crossings whose curvature never exceeds 1/R holds a disc of radius R (Pestov, Ionin), so R is at
 *   most that of the largest disc that the outermost chain leaves room for.
 * reverse: a line from one leg to a parallel one that never turns square to them; R = (run^2 + offset^2) / (4 offset).
 */
export interface FairBound {
  readonly kind: 'inscribedDisc' | 'reverse'
  readonly radiusMm: number
}

export interface FairSolution {
  readonly traverse: Traverse
  readonly corners: readonly FairCorner[]
  readonly before: FairMeasure
  readonly after: FairMeasure
  readonly binds: readonly FairBind[]
  /** null: no bound is known for this kind of problem. */
  readonly bound: FairBound | null
  readonly rounds: number
  /** settled: no move helps any more; budget: rounds were used up; stopped: the caller wanted no more. */
  readonly ended: 'settled' | 'budget' | 'stopped'
}

export type FairAnswer = { readonly ok: true; readonly fair: FairSolution } | { readonly ok: false; readonly problem: FairProblem }

/** One round done. */
export interface FairProgress {
  readonly rounds: number
  readonly roundsMost: number
  readonly minRadiusMm: number
}

/** One row of a linear program: the sum of values times variables is at least `least`. */
export interface LinearRow {
  readonly columns: readonly number[]
  readonly values: readonly number[]
  readonly least: number
}

/** Minimise cost . x with lower <= x <= upper and all rows kept. Infinity: no bound. */
export interface LinearProgram {
  readonly cost: readonly number[]
  readonly lower: readonly number[]
  readonly upper: readonly number[]
  readonly rows: readonly LinearRow[]
}

export type LinearOutcome =
  | { readonly status: 'optimal'; readonly x: readonly number[] }
  | { readonly status: 'failed'; readonly says: string }

/** The solver of linear programs is handed in: the core has none of its own. */
export type LinearSolve = (program: LinearProgram) => LinearOutcome
