import { planParse } from '../core/plan/index.ts'
import type { Plan, PlanProblem } from '../core/plan/index.ts'
import { historyNone, historyRestored } from './history.ts'
import type { History } from './history.ts'
import type { KeepStatus } from './types.ts'

/** A document as it lies on the shelf. `revision` counts writes, so that a page can see that another wrote. */
export interface ShelfRecord {
  readonly revision: number
  readonly savedAtMs: number
  /** Plain data as it was written, by this version of the app or another; null: set aside, none is there. */
  readonly document: unknown
  /** Which plan of the shelf it is. */
  readonly planId?: string
  /** Steps back and forth from it; absent in what was written before they were kept. */
  readonly history?: unknown
}

/** A document that was moved out of the way and not thrown away. */
export interface SetAside {
  readonly savedAtMs: number
  readonly why: 'unreadable' | 'replaced'
  readonly document: unknown
}

/**
 * Where plans are kept in this browser. Each call is one transaction: it is done in whole or not at all, also when the page dies in
 * the middle. Every call may reject: storage full, or forbidden.
 */
export interface PlanShelf {
  /** The current document and the one that it replaced. */
  read(): Promise<{ readonly current: ShelfRecord | null; readonly previous: ShelfRecord | null }>
  /**
   * Puts a document in place of the current one, if that still has the revision `base` (0: none is there).
   * isOther: it is another plan and not a change of that one, which is then set aside.
   * planId: which plan of the shelf it is, if that is known.
   * Gives the new revision, or null when another page wrote in between and nothing was done.
   */
  write(base: number, document: Plan, savedAtMs: number, isOther: boolean, history?: History, planId?: string): Promise<number | null>
  /** Moves the current document out of the way, untouched; gives the revision that the empty place now has. */
  setAside(): Promise<number>
  /** All that was set aside, newest first. */
  asides(): Promise<readonly SetAside[]>
}

/** A plan that lies on the shelf and not on the desk. */
export interface ShelvedPlan {
  readonly id: string
  readonly savedAtMs: number
  readonly document: unknown
  /** When it was taken off the shelf to be thrown away some day; null: it stands there. */
  readonly awayAtMs: number | null
}

/** A plan as it was at some time. */
export interface PlanVersion {
  readonly planId: string
  readonly savedAtMs: number
  readonly document: unknown
}

/** All plans of this browser. The one on the desk is there too and is written by the autosave alone. Every call may reject. */
export interface PlanLibrary {
  /** Which plan lies on the desk (null: none is kept yet), and all others, the latest first. */
  plans(): Promise<{ readonly deskId: string | null; readonly others: readonly ShelvedPlan[] }>
  /** Earlier versions of a plan, newest first. */
  versions(planId: string): Promise<readonly PlanVersion[]>
  /** Puts a plan beside the others; gives its id. */
  add(document: Plan, savedAtMs: number): Promise<string>
  /** Changes one that is not on the desk. What it was becomes an earlier version if its document is another. */
  change(id: string, change: Partial<Pick<ShelvedPlan, 'document' | 'savedAtMs' | 'awayAtMs'>>): Promise<void>
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
  readonly savedAtMs: number | null
  readonly history: History
  /** To be handed to the autosave: what it builds on. */
  readonly revision: number
  /** Which plan of the shelf it is; null: none is there. */
  readonly planId: string | null
  /** Why the document on the shelf was set aside instead of opened: a newer version wrote it, or it is damaged. */
  readonly setAside: PlanProblem | null
  /** The shelf itself cannot be used. */
  readonly failed: Extract<KeepStatus, { kind: 'failed' }> | null
}

/**
 * The plan as it was left. A document that cannot be read is never written over: it is set aside. When it is damaged (and
 * not of a newer version) the one before it is taken.
 * Throws: never.
 */
export async function planRestore(shelf: PlanShelf): Promise<Restored> {
  const nothing: Restored = { plan: null, savedAtMs: null, history: historyNone, revision: 0, planId: null, setAside: null, failed: null }
  try {
    const { current, previous } = await shelf.read()
    if (current === null) return nothing
    if (current.document === null) return { ...nothing, revision: current.revision, planId: current.planId ?? null }
    const read = planParse(current.document)
    if (read.ok) {
      const { savedAtMs, revision, planId = null } = current
      return { ...nothing, plan: read.plan, savedAtMs, revision, planId, history: historyRestored(read.plan, current.history) }
    }
    const revision = await shelf.setAside()
    const earlier = previous === null || read.problem.kind === 'newerVersion' ? null : planParse(previous.document)
    const plan = earlier?.ok === true ? earlier.plan : null
    return {
      ...nothing,
      plan,
      savedAtMs: plan === null ? null : (previous?.savedAtMs ?? null),
      revision,
      planId: current.planId ?? null,
      setAside: read.problem,
    }
  } catch (error) {
    return { ...nothing, failed: keepFailure(error) }
  }
}

/** What a storage error means for the person. */
export function keepFailure(error: unknown): Extract<KeepStatus, { kind: 'failed' }> {
  const { name, message } = error instanceof Error ? error : { name: '', message: String(error) }
  if (name === 'QuotaExceededError') return { kind: 'failed', reason: 'full', message }
  const isBlocked = ['SecurityError', 'NotAllowedError', 'InvalidStateError', 'ReferenceError', 'VersionError'].includes(name)
  return { kind: 'failed', reason: isBlocked ? 'blocked' : 'other', message }
}
