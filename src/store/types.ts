import type { SettledFindings } from '../core/checks/index.ts'
import type { Finding } from '../core/checks/types.ts'
import type { EditResult, PlanCommand, PlanPatch } from '../core/edit/types.ts'
import type { Point } from '../core/geom/types.ts'
import type { Derived } from '../core/pipeline/types.ts'
import type { Printer } from '../core/jigs/index.ts'
import type { Id, Plan, TableName } from '../core/plan/types.ts'
import type { Member } from '../core/stretch/index.ts'
import type { LayingAnswer, LayingProgress } from '../engine/protocol.ts'
import type { Hideable } from './hidden.ts'
import type { LastGood } from './lastGood.ts'

/** One step as the person thinks of it. */
export interface HistoryEntry {
  readonly label: string
  readonly patch: PlanPatch
}

/** Steps back and forth; the last of each list is the next one. */
export interface History {
  readonly undo: readonly HistoryEntry[]
  readonly redo: readonly HistoryEntry[]
}

/** The document and its past. `plan` includes an open transaction (a drag); `committed` never does. */
export interface PlanState {
  readonly plan: Plan
  readonly committed: Plan
  readonly undoStack: readonly HistoryEntry[]
  readonly redoStack: readonly HistoryEntry[]
  readonly transaction: { readonly label: string; readonly base: Plan } | null
  /** Counts the documents that were put in place of the last one: another number, another document and no change of it. */
  readonly loaded: number
}

export interface PlanActions {
  /** Does one command as one step; isMore: as a part of the last one, if that is called the same. On a problem nothing changes. */
  apply(command: PlanCommand, isMore?: boolean): EditResult
  /** Opens a transaction; a drag calls replace on each move and commit or cancel at the end. */
  begin(label: string): void
  /** The open transaction becomes base + this command. On a problem the last good state stays. */
  replace(command: PlanCommand): EditResult
  commit(): void
  cancel(): void
  /** False when there is nothing to undo (redo) or a transaction is open. */
  undo(): boolean
  redo(): boolean
  /** Several steps at once, back (below 0) or forth; false when there are not so many, or a transaction is open. */
  travel(steps: number): boolean
  /** Another document with its own past. */
  load(plan: Plan, history?: History): void
}
export type PlanStoreState = PlanState & PlanActions

export type StageName = 'room' | 'line' | 'turnouts' | 'roadbed' | 'track' | 'checks' | 'sheets'
export type ToolName =
  | 'select'
  | 'benchwork'
  | 'hole'
  | 'wall'
  | 'opening'
  | 'hatch'
  | 'joist'
  | 'track'
  | 'portal'
  | 'turnout'
  | 'survey'
  | 'measure'
  | 'guide'

export type Selection =
  | { readonly kind: 'none' }
  | { readonly kind: 'record'; readonly table: TableName; readonly id: Id }
  | { readonly kind: 'corner'; readonly track: Id; readonly corner: Id }
  | { readonly kind: 'trackEnd'; readonly track: Id; readonly end: 'start' | 'end' }
  | { readonly kind: 'ringPoint'; readonly benchwork: Id; readonly ring: number; readonly index: number }
  /** Records that are moved, turned, mirrored or taken out together. */
  | { readonly kind: 'several'; readonly members: readonly Member[] }

/** Where the canvas looks: plan point in the middle and screen pixels per mm. */
export interface Viewport {
  readonly centre: Point
  readonly pxPerMm: number
}

export interface SessionState {
  readonly stage: StageName
  readonly tool: ToolName
  readonly selection: Selection
  readonly viewport: Viewport
  /** A place on a track that canvas and track chart point at together. */
  readonly hover: { readonly track: Id; readonly stationMm: number } | null
  /** What is out of sight on the canvas. */
  readonly hidden: readonly Hideable[]
  /** Short notice for the person: a problem in words, or null. */
  readonly notice: string | null
}
export interface SessionActions {
  setStage(stage: StageName): void
  setTool(tool: ToolName): void
  /** What is selected comes into sight. */
  select(selection: Selection): void
  setViewport(viewport: Viewport): void
  setHover(hover: SessionState['hover']): void
  /** Puts kinds out of sight, in place of those that were; what is selected of them is let go. */
  setHidden(hidden: readonly Hideable[]): void
  setNotice(notice: string | null): void
}
export type SessionStoreState = SessionState & SessionActions

/** Measured lengths of its printed 100 mm bar, mm. */
export interface PaperPrinter {
  readonly bar100X: number
  readonly bar100Y: number
}

export interface Prefs {
  readonly units: 'imperial' | 'metric'
  /** Fractions to the nearest 1/16, 1/32 or 1/64 in. */
  readonly fraction: 16 | 32 | 64
  readonly theme: 'system' | 'light' | 'dark' | 'contrast'
  /** Name of a paper, 'own' or 'roll'. */
  readonly paper: string
  /** A roll is as wide as this, and its pages are cut this long. */
  readonly rollWidthMm: number
  readonly rollLengthMm: number
  /** Paper of a size that has no name. */
  readonly ownWidthMm: number
  readonly ownHeightMm: number
  /** The printer at hand, and how true each printer is that was measured. */
  readonly paperPrinter: string
  readonly paperPrinters: { readonly [name: string]: PaperPrinter }
  /** Measured length of the printed 100 mm bar of the printer at hand, mm, per axis. */
  readonly bar100X: number
  readonly bar100Y: number
  /** The printer of solids that jigs are cut up for. */
  readonly printer: Printer
  /** Keys of one's own, by the id of the action that they are for; the others are as usual. */
  readonly keys: { readonly [action: string]: string }
}
export type PrefsStoreState = Prefs & { setPrefs(change: Partial<Prefs>): void }

/** What was computed from the plan, and the findings with the plan that they belong to. */
export interface DerivedStoreState {
  readonly derived: Derived
  /** Of tracks that have no line now: the last one that they had since the plan was opened. */
  readonly lastGood: LastGood
  /** Those that are open, as severe as their line class tells them. */
  readonly findings: readonly Finding[]
  /** Those that the builder lives with. */
  readonly silenced: SettledFindings['silenced']
  /** Silences of what is not wrong any more. */
  readonly idle: SettledFindings['idle']
  /** Older than `derived.plan` while the checks are at work; null: no plan has been looked through yet. */
  readonly findingsFor: Plan | null
  /** What keeps the checks from looking through the plan, in the words of the machine; null: nothing. */
  readonly checksTrouble: string | null
}

/** What the plan is cut into, with the plan that it belongs to: older than the plan at hand while the lists are being made. */
export interface LayingState {
  readonly answer: LayingAnswer | null
  readonly answerFor: Plan | null
  readonly work:
    | { readonly kind: 'rest' }
    | { readonly kind: 'working'; readonly progress: LayingProgress }
    | { readonly kind: 'failed'; readonly message: string }
}
export interface LayingActions {
  /** Ends the search for fewer sticks with the best found so far. */
  stop(): void
  /** Makes the lists of the plan at hand anew: after a failure, or to go on after a stop. */
  again(): void
}
export type LayingStoreState = LayingState & LayingActions

/** Whether the plan is safe in this browser. */
export type KeepStatus =
  /** Nothing to keep yet: the plan is as the app came with it. */
  | { readonly kind: 'fresh' }
  /** Changed a moment ago; written within the next. */
  | { readonly kind: 'waiting' }
  /** atMs: milliseconds since 1970, as the clock of the computer gives them. */
  | { readonly kind: 'kept'; readonly atMs: number }
  /** message: the browser's own words, for those who can use them. */
  /** newer: a newer version of the app has taken over the storage; older: a page of an older one holds it; slow: no answer so far. */
  | { readonly kind: 'failed'; readonly reason: 'full' | 'blocked' | 'newer' | 'older' | 'slow' | 'other'; readonly message: string }
  /** Another page writes this plan. hasOwn: something was changed here since, which is kept only if this page takes over. */
  | { readonly kind: 'elsewhere'; readonly hasOwn: boolean }
