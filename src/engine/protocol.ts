import type { FairProgress, TraceAnswer, TraceOptions, TraceProgress } from '../core/alignment/index.ts'
import type { SettledFindings } from '../core/checks/index.ts'
import type { Finding } from '../core/checks/types.ts'
import type { ListRequest, Report } from '../core/deliver/index.ts'
import type { Paper, SheetOptions, SheetSubject } from '../core/deliver/types.ts'
import type { PlanPatch } from '../core/edit/types.ts'
import type { Box, Point } from '../core/geom/types.ts'
import type { FairOptions } from '../core/pipeline/index.ts'
import type { Jig } from '../core/jigs/index.ts'
import type { Id, Plan } from '../core/plan/types.ts'
import type { LayingLists, Shopping } from '../core/shopping/index.ts'
import type { CutProgress, CutRequest, CutResult } from '../core/sticks/index.ts'
import type { PdfProgress } from '../formats/pdf.ts'
import type { SolidPiece } from '../formats/solid/types.ts'
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
  /** The listener wanted no more: there is no PDF. */
  readonly isStopped?: true
}

/** draw: what is on the sheets is computed; page: the next one is written to the file. */
export type SheetsProgress = { readonly kind: 'draw' } | ({ readonly kind: 'page' } & PdfProgress)

/** What a plan is cut into, and what there is to buy for it. */
export interface LayingAnswer {
  readonly lists: LayingLists
  readonly shopping: Shopping
}

/** derive: rails, ties and roadbed follow from the plan; cut: a list is put on its stock, with how far that is. */
export type LayingProgress = { readonly kind: 'derive' } | { readonly kind: 'cut'; readonly progress: CutProgress }

export type LayingListener = (progress: LayingProgress) => boolean | Promise<boolean>
export type SheetsListener = (progress: SheetsProgress) => boolean | Promise<boolean>
export type FairListener = (progress: FairProgress) => boolean | Promise<boolean>
export type CutListener = (progress: CutProgress) => boolean | Promise<boolean>
export type TraceListener = (progress: TraceProgress) => boolean | Promise<boolean>

/**
 * Heavy work behind one face: inline (command line, tests, fallback) and in a worker (page).
 * Each call takes all that it needs: the whole plan, or points. A rejected promise carries an Error whose message a person can read.
 */
export interface Engine {
  check(plan: Plan): Promise<readonly Finding[]>
  /** What a plan came to, with its findings as the builder settled them. */
  report(plan: Plan, findings: Pick<SettledFindings, 'open' | 'silenced'>): Promise<Report>
  /** Sheets as a PDF. Heard of page by page, and stopped, as with fair; stopped, there is no file at all. */
  sheets(plan: Plan, subject: SheetSubject, options: SheetOptions, onProgress?: SheetsListener): Promise<SheetsAnswer>
  /** Tables in words, printed on as many pages as they need. */
  lists(request: ListRequest, options: SheetOptions): Promise<SheetsAnswer>
  /**
   * Eases a track: the largest smallest radius that its corridor allows. Seconds of work; onProgress hears of it now and then, and
   * what it says decides: true goes on, false stops with the best line so far.
   */
  fair(plan: Plan, track: Id, options: FairOptions, onProgress: FairListener): Promise<TrackFairAnswer>
  /** Fits a line to measured points; see traceRounds. Milliseconds to many seconds of work, heard of and stopped as with fair. */
  trace(points: readonly Point[], options: TraceOptions, onProgress: TraceListener): Promise<TraceAnswer>
  /**
   * Cuts pieces from stock; see cutRounds. Heard of and stopped as with fair; after so many seconds it stops of itself, a step of the work
   * later, with the best cutting so far and its bound.
   */
  cut(request: CutRequest, seconds: number, onProgress: CutListener): Promise<CutResult>
  /**
   * What to cut, lay and buy for a plan; see layingLists. Heard of and stopped as with fair; after so many seconds, or stopped, each list that is
   * still open keeps the best cutting so far.
   */
  laying(plan: Plan, seconds: number, onProgress: LayingListener): Promise<LayingAnswer>
  /** A described jig as closed solids, piece by piece. */
  solids(jig: Jig): Promise<readonly SolidPiece[]>
  dispose(): void
}

/** What is asked of checks that keep a plan. number: counts the plans that were asked about. */
export type ChecksQuestion =
  | { readonly kind: 'whole'; readonly number: number; readonly plan: Plan }
  /** The plan that was asked about as number `since`, and what is different now. */
  | { readonly kind: 'change'; readonly number: number; readonly since: number; readonly patch: PlanPatch }

export type ChecksAnswer =
  /** A number stands for the finding at that place of the answer before: it is still the same, and need not travel again. */
  | { readonly kind: 'found'; readonly findings: readonly (Finding | number)[] }
  /** The plan that the change belongs to is not kept here; ask with the whole plan. */
  | { readonly kind: 'lost' }
  /** This plan cannot be checked; message: what went wrong, for those who can use it. */
  | { readonly kind: 'failed'; readonly message: string }

/**
 * Checks with a plan of their own, so that one edit checks only what it touches. A copy of a whole plan would look like a new one in every
 * record; so what changed comes record by record, and all others stay the objects that they are.
 *
 * Questions are asked one at a time. A rejected promise means that the checks themselves are gone, and their plan with them.
 */
export interface ChecksEngine {
  ask(question: ChecksQuestion): Promise<ChecksAnswer>
  dispose(): void
}
