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
   * Gives the new revision, or null when another page wrote in between and nothing was done.
   */
  write(base: number, document: Plan, savedAtMs: number, isOther: boolean, history?: History): Promise<number | null>
  /** Moves the current document out of the way, untouched; gives the revision that the empty place now has. */
  setAside(): Promise<number>
  /** All that was set aside, newest first. */
  asides(): Promise<readonly SetAside[]>
}

/** What the shelf gave at the start of the app. */
export interface Restored {
  /** null: nothing there, or nothing that can be read. */
  readonly plan: Plan | null
  readonly savedAtMs: number | null
  readonly history: History
  /** To be handed to the autosave: what it builds on. */
  readonly revision: number
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
  const nothing: Restored = { plan: null, savedAtMs: null, history: historyNone, revision: 0, setAside: null, failed: null }
  try {
    const { current, previous } = await shelf.read()
    if (current === null) return nothing
    if (current.document === null) return { ...nothing, revision: current.revision }
    const read = planParse(current.document)
    if (read.ok) {
      const { savedAtMs, revision } = current
      return { ...nothing, plan: read.plan, savedAtMs, revision, history: historyRestored(read.plan, current.history) }
    }
    const revision = await shelf.setAside()
    const earlier = previous === null || read.problem.kind === 'newerVersion' ? null : planParse(previous.document)
    const plan = earlier?.ok === true ? earlier.plan : null
    return { ...nothing, plan, savedAtMs: plan === null ? null : (previous?.savedAtMs ?? null), revision, setAside: read.problem }
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
