import type { PlanPatch } from '../core/edit/index.ts'
import type { Plan, PlanProblem } from '../core/plan/index.ts'
import { historyNone } from './history.ts'
import { readingLate } from './readingLate.ts'
import type { History, KeepStatus } from './types.ts'

/** A plan as it lies on the shelf. */
export interface KeptPlan {
  readonly id: string
  /** Counts writes, so that a page can see that another wrote. */
  readonly revision: number
  readonly savedAtMs: number
  /** Plain data as it was written, by this version of the app or another. */
  readonly document: unknown
  /** Steps back and forth from it. */
  readonly history?: unknown
  /** When it was put away, to be thrown away some day; null: it stands there. */
  readonly awayAtMs: number | null
}

/** A plan as it was at some time. */
export interface PlanVersion {
  readonly planId: string
  readonly savedAtMs: number
  readonly document: unknown
}

/** What was changed in a plan since a revision of it, noted down before it is written: small, and there if the page dies before that. */
export interface PlanNote {
  readonly id: string
  readonly base: number
  readonly patch: PlanPatch
}

/** Those notes that lead on from a revision: while a write is under way, the next note builds on what that will give. */
export function notesOn(revision: number, notes: readonly PlanNote[]): readonly PlanPatch[] {
  const note = notes.find(({ base }) => base === revision)
  return note === undefined ? [] : [note.patch, ...notesOn(revision + 1, notes)]
}

/** A plan on its way to the shelf. */
export interface PlanToKeep {
  readonly id: string
  /** The revision that it builds on; 0: none of it is there. */
  readonly base: number
  readonly document: Plan
  readonly savedAtMs: number
  readonly history: History
  /** What it takes the place of becomes a version, however young the last one is. */
  readonly isMarked: boolean
}

/**
 * Where plans are kept in this browser, as the page that works on one sees it. Each call is one transaction: it is done in whole or not
 * at all, also when the page dies in the middle. Every call may reject: storage full, or forbidden.
 */
export interface PlanShelf {
  /**
   * A plan, the document that it had before its last write (null: none), and what was noted down since, one after the other. Null, or a
   * plan that is not there or was put away: the one that was last at work.
   */
  read(
    planId: string | null,
  ): Promise<{ readonly current: KeptPlan | null; readonly before: unknown; readonly noted: readonly PlanPatch[] }>
  /** In one breath. It holds until the write that builds on the same revision. */
  note(note: PlanNote): Promise<void>
  /** Puts a plan in its place, if that still has the revision `base`. Gives the new one, or null when another page wrote in between. */
  write(plan: PlanToKeep): Promise<number | null>
  /** This plan is the one that was last at work. */
  laid(planId: string): Promise<void>
}

/** All plans of this browser. Those that some page works on are written by that page alone. Every call may reject. */
export interface PlanLibrary {
  /** The latest first. */
  plans(): Promise<readonly KeptPlan[]>
  /** Earlier versions of a plan, newest first. */
  versions(planId: string): Promise<readonly PlanVersion[]>
  /** Puts a plan beside the others; gives its id. */
  add(document: Plan, savedAtMs: number): Promise<string>
  /** Changes one that no page works on. What it was becomes an earlier version if its document is another. */
  change(id: string, change: Partial<Pick<KeptPlan, 'document' | 'savedAtMs' | 'awayAtMs'>>): Promise<void>
  /** Throws one that was put away off the shelf with all its versions, for good. */
  remove(id: string): Promise<void>
}

/** A name for a plan that no other plan of this browser has. */
export function planIdNew(): string {
  // Not randomUUID: a page from a plain address in the house's own net has none.
  return [...crypto.getRandomValues(new Uint32Array(4))].map((part) => part.toString(36).padStart(7, '0')).join('')
}

/** What the shelf gave at the start of the app. */
export interface Restored {
  /** null: nothing there, or nothing that can be read. */
  readonly plan: Plan | null
  /** null: it does not lie there in this state. */
  readonly savedAtMs: number | null
  readonly history: History
  /** To be handed to the autosave: what it builds on. */
  readonly revision: number
  /** Which plan of the shelf it is, or will be. */
  readonly planId: string
  /** Why the plan on the shelf was left there instead of opened: a newer version wrote it, or it is damaged. */
  readonly unreadable: PlanProblem | null
  /** The shelf itself cannot be used. */
  readonly failed: Extract<KeepStatus, { kind: 'failed' }> | null
}

/**
 * The plan as it was left: the one asked for, else the one that was last at work. A document that cannot be read stays where it is,
 * untouched; what is on the desk then is another plan. When it is damaged (and not of a newer version) that is the one before it.
 * Throws: never.
 */
export async function planRestore(shelf: PlanShelf, planId: string | null = null): Promise<Restored> {
  const nothing: Restored = {
    plan: null,
    savedAtMs: null,
    history: historyNone,
    revision: 0,
    planId: planIdNew(),
    unreadable: null,
    failed: null,
  }
  try {
    const { current, before } = await shelf.read(planId)
    if (current === null) return nothing
    const { planParse, historyRestored } = await readingLate.bring()
    const read = planParse(current.document)
    if (read.ok) {
      const { id, savedAtMs, revision } = current
      return { ...nothing, plan: read.plan, savedAtMs, revision, planId: id, history: historyRestored(read.plan, current.history) }
    }
    const earlier = before === null || read.problem.kind === 'newerVersion' ? null : planParse(before)
    return { ...nothing, plan: earlier?.ok === true ? earlier.plan : null, unreadable: read.problem }
  } catch (error) {
    return { ...nothing, failed: keepFailure(error) }
  }
}

type Failed = Extract<KeepStatus, { kind: 'failed' }>

/** By the names of the standard (W3C, Indexed Database API; WHATWG, DOM: error names). */
const reasons: { readonly [name: string]: Failed['reason'] } = {
  QuotaExceededError: 'full',
  SecurityError: 'blocked',
  NotAllowedError: 'blocked',
  InvalidStateError: 'blocked',
  ReferenceError: 'blocked',
  // A later version of the app has changed the database.
  VersionError: 'newer',
  TimeoutError: 'older',
}

/** What a storage error means for the person. */
export function keepFailure(error: unknown): Failed {
  const { name, message } = error instanceof Error ? error : { name: '', message: String(error) }
  return { kind: 'failed', reason: reasons[name] ?? 'other', message }
}
