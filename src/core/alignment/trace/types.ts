import type { Path, Point } from '../../geom/types.ts'
import type { Traverse } from '../types.ts'

export interface TraceOptions {
  /** How far a point may lie off the line and still be on it, mm, > 0. */
  readonly toleranceMm: number
  /** The points go round: the last one is followed by the first. */
  readonly isClosed: boolean
  /** What a person knows better about some of the points, by their index; absent: nothing. */
  readonly verdicts?: ReadonlyMap<number, TraceVerdict>
}

/** counts: true however far off the others say it lies. leftOut: not looked at. */
export type TraceVerdict = 'counts' | 'leftOut'

/** What is known while a line is looked for. */
export interface TraceProgress {
  /** Steps of least squares so far. */
  readonly rounds: number
  /** Of the line at hand: its corners, and the largest offset that neighbouring points agree on, mm. */
  readonly corners: number
  readonly worstMm: number
}

/** What is said to progress; stop: no more steps, the best so far is the answer. */
export type TraceWish = 'goOn' | 'stop'

export type TraceProblem =
  | { readonly kind: 'notFinite'; readonly index: number }
  | { readonly kind: 'toleranceNotPositive'; readonly toleranceMm: number }
  /** have: points that differ from the one before. */
  | { readonly kind: 'tooFewPoints'; readonly have: number; readonly need: number }
  | { readonly kind: 'tooManyPoints'; readonly have: number; readonly most: number }
  /** The points do not follow each other along a line: here they turn back, again and again. */
  | { readonly kind: 'unordered'; readonly index: number }
  /** A closed line needs three corners; these points give fewer. */
  | { readonly kind: 'notClosed'; readonly corners: number }

/** How one measured point lies to the line. */
export interface TraceResidual {
  readonly index: number
  readonly stationMm: number
  /** Of the point from the line, + left of rising station, mm. */
  readonly offsetMm: number
  /** So far off, and by itself, that it was not let pull at the line. Not said of points with a verdict. */
  readonly isOutlier: boolean
}

export interface TraceSolution {
  /** Free from near the first point to near the last; corners with ids c1, c2, ... */
  readonly traverse: Traverse
  readonly path: Path
  /** One for each point, in their order. */
  readonly residuals: readonly TraceResidual[]
  readonly outliers: readonly number[]
  /** Of the points that are no outliers and not left out, mm. */
  readonly rmsMm: number
  readonly worstMm: number
  /** Whether all points but the outliers and those left out lie within the tolerance. */
  readonly isWithin: boolean
  /** How far the points scatter square to any smooth line, as their neighbours tell: a standard error, mm. */
  readonly noiseMm: number
  readonly rounds: number
  readonly ended: 'settled' | 'stopped'
}

export type TraceAnswer = { readonly ok: true; readonly trace: TraceSolution } | { readonly ok: false; readonly problem: TraceProblem }

/** Measured points made ready: those that count, with the number they had. */
export interface Measured {
  readonly points: readonly Point[]
  readonly indices: readonly number[]
  /** Those that count however far off they lie. */
  readonly held: readonly boolean[]
  /** Standard error of one point square to the line, estimated from its neighbours, mm. */
  readonly noiseMm: number
}
