import type { FairProgress, TraceAnswer, TraceOptions, TraceProgress } from '../core/alignment/index.ts'
import type { Finding } from '../core/checks/types.ts'
import type { ListRequest } from '../core/deliver/index.ts'
import type { Paper, SheetOptions, SheetSubject } from '../core/deliver/types.ts'
import type { Box, Point } from '../core/geom/types.ts'
import type { FairOptions } from '../core/pipeline/index.ts'
import type { Id, Plan } from '../core/plan/types.ts'
import type { TrackFairAnswer } from './fair.ts'

/** What a sheet covers, for lists and for the test that no place is left out. */
export interface SheetSummary {
  readonly name: string
  readonly title: string
  /** The paper as it lies: upright, or across where that saves sheets. */
  readonly paper: Paper
  /** Box of the plan that the printed window covers, mm; of a list nothing, at the origin. */
  readonly planBox: Box
  /** The window itself, which may be turned: lower left, lower right, upper right, upper left of the page; none of a list. */
  readonly planCorners: readonly Point[]
}

export interface SheetsAnswer {
  readonly pdf: Uint8Array
  readonly sheets: readonly SheetSummary[]
  readonly problems: readonly string[]
}

export type FairListener = (progress: FairProgress) => boolean | Promise<boolean>
export type TraceListener = (progress: TraceProgress) => boolean | Promise<boolean>

/**
 * Heavy work behind one face: inline (command line, tests, fallback) and in a worker (page).
 * Each call takes all that it needs: the whole plan, or points. A rejected promise carries an Error whose message a person can read.
 */
export interface Engine {
  check(plan: Plan): Promise<readonly Finding[]>
  sheets(plan: Plan, subject: SheetSubject, options: SheetOptions): Promise<SheetsAnswer>
  /** Tables in words, printed on as many pages as they need. */
  lists(request: ListRequest, options: SheetOptions): Promise<SheetsAnswer>
  /**
   * Eases a track: the largest smallest radius that its corridor allows. Seconds of work; onProgress hears of it now and then, and
   * what it says decides: true goes on, false stops with the best line so far.
   */
  fair(plan: Plan, track: Id, options: FairOptions, onProgress: FairListener): Promise<TrackFairAnswer>
  /** Fits a line to measured points; see traceRounds. Milliseconds to many seconds of work, heard of and stopped as with fair. */
  trace(points: readonly Point[], options: TraceOptions, onProgress: TraceListener): Promise<TraceAnswer>
  dispose(): void
}
