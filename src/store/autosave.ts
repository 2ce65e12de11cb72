import { createStore } from 'zustand/vanilla'
import type { StoreApi } from 'zustand/vanilla'
import { patchApply, patchBetween, patchSquash } from '../core/edit/index.ts'
import type { PlanPatch } from '../core/edit/index.ts'
import type { Plan } from '../core/plan/index.ts'
import type { Claim, Claims } from './claim.ts'
import type { ShelfNews } from './news.ts'
import { historyToKeep } from './history.ts'
import type { reading } from './reading.ts'
import { readingLate } from './readingLate.ts'
import { timingReal } from './timing.ts'
import type { Timing } from './timing.ts'
import { keepFailure, planIdNew } from './shelf.ts'
import type { KeptPlan, PlanShelf, Restored } from './shelf.ts'
import type { History, KeepStatus, PlanState, PlanStoreState } from './types.ts'

/** After a write the page has as long for its own work as the write took, and no longer than this: a crash costs no more. */
const longestRestMs = 200

/** A write that takes longer is told, though it may still come through. */
const tellAfterMs = 4000

/** What could not be written is tried again after so long: the person may have made room elsewhere, and turned away. */
const againAfterMs = 15_000

/** A plan as it lies on the shelf, what was noted down since, and what reads both. */
interface Lying {
  readonly there: KeptPlan
  readonly noted: readonly PlanPatch[]
  readonly reading: typeof reading
}

/** What the plan that is loaded next is to the shelf; when nothing is said, it is a new one, to be kept at once. */
export type NextPlan =
  /** The plan of that name, as it lies there in that revision. */
  | { readonly kind: 'kept'; readonly id: string; readonly revision: number; readonly savedAtMs: number }
  /** To be put in the place of that one. */
  | { readonly kind: 'version'; readonly id: string; readonly revision: number }
  /** One that was on the desk of this page before, as it was left. */
  | { readonly kind: 'before'; readonly id: string }
  /** It came with the app and can be had again: kept once something is changed in it. */
  | { readonly kind: 'example' }

export interface Autosave {
  readonly status: StoreApi<KeepStatus>
  /** The name on the shelf of the plan that is at work here. */
  planId(): string
  /** Writes what is not written yet; settles when that is done or has failed. */
  flush(): Promise<void>
  /** Makes this page the one that writes the plan; what the other wrote last becomes a version. */
  takeOver(): Promise<void>
  /** What was done here would go with the page: it cannot be written, or another page writes this plan. */
  isUnkept(): boolean
  /** Shows what the other page wrote last, in place of what was changed here since. */
  follow(): Promise<void>
  nextIs(next: NextPlan): void
  stop(): void
}

/** What this page knows of a plan on the shelf. */
interface Known {
  /** The revision that it last read or wrote; 0: there is none. */
  base: number
  /** The plan as it lies there, or as it came and need not be kept; null: it has to be written. */
  written: Plan | null
  keptAtMs: number | null
}

/** The plan at work. */
interface Hold {
  readonly id: string
  readonly claim: Claim
  readonly known: Known
  /** The right to write it is had. */
  isHeld: boolean
  /** It is had, and what lies on the shelf is what this page knows. */
  mayWrite: boolean
  isMarked: boolean
}

/**
 * Keeps every committed change of the plan on the shelf. An open drag is not written.
 *
 * Of each plan one page has the right to write; pages on different plans all write. A write goes through only if the shelf still holds
 * what this page last read or wrote, so two pages cannot silently write over each other, whatever becomes of locks; the one that is
 * late says 'elsewhere' and writes no more until it takes over. As long as nothing is changed in it, it follows what the other writes.
 * Throws: never; what goes wrong is in `status`, and the next change tries again.
 */
export function autosaveStart(options: {
  readonly planStore: StoreApi<PlanStoreState>
  readonly shelf: PlanShelf
  readonly restored: Restored
  readonly claims: Claims
  /** How pages tell each other that the shelf changed; without it none follows. */
  readonly news?: ShelfNews
  readonly timing?: Timing
  /** Milliseconds since 1970. */
  readonly clock?: () => number
  /** Told the name of the plan whenever another one is at work. */
  readonly laid?: (planId: string) => void
}): Autosave {
  const { planStore, shelf, restored, claims, news, timing = timingReal, clock = Date.now, laid = () => undefined } = options
  const status = createStore<KeepStatus>()(() => restored.failed ?? { kind: 'fresh' })
  const say = (next: KeepStatus): void => status.setState(next, true)

  /** The plan that was at work before this one. */
  let past: Hold | null = null
  let isStopped = false
  let isFollowing = false
  let next: NextPlan | null = null
  let callOff: (() => void) | null = null
  let callOffAgain = (): void => undefined
  let restUntilMs = -Infinity
  /** The state that is on its way to the shelf. */
  let underway: Plan | null = null
  let queue: Promise<void> = Promise.resolve()
  // One job after the other: each must know the revision that the one before it made.
  const enqueue = (job: () => Promise<void>): Promise<void> => {
    queue = queue.then(job).catch((error: unknown) => say(keepFailure(error)))
    return queue
  }
  let hold = holdNew(restored.planId, {
    base: restored.revision,
    // A plan that was found and does not lie there as it is has to be written.
    written: restored.plan !== null && restored.savedAtMs === null ? null : planStore.getState().committed,
    keptAtMs: restored.savedAtMs,
  })
  if (restored.failed === null) say(statusOf(hold.known))

  const isDirty = (): boolean => planStore.getState().committed !== hold.known.written

  function holdNew(id: string, knows: Known): Hold {
    laid(id)
    return { id, claim: claims(id), known: knows, isHeld: false, mayWrite: false, isMarked: false }
  }
  function ask(own: Hold): void {
    own.claim.ask((isHeld) => {
      if (isStopped || own !== hold) return
      own.isHeld = isHeld
      if (isHeld) void enqueue(() => resume(own))
      else lose(own)
    })
  }
  function lose(own: Hold): void {
    own.mayWrite = false
    say({ kind: 'elsewhere', hasOwn: isDirty() })
    void enqueue(() => follow(own))
  }

  /** Writes the plan of a hold in this state. False: another page wrote in between. */
  async function write(own: Hold, { committed, undoStack, redoStack }: PlanState): Promise<boolean> {
    if (!own.mayWrite || committed === own.known.written) return true
    callOffAgain()
    const begunAtMs = timing.now()
    const savedAtMs = clock()
    const { id, isMarked } = own
    const history = historyToKeep({ undo: undoStack, redo: redoStack })
    underway = committed
    const put = (): Promise<number | null> => shelf.write({ id, base: own.known.base, document: committed, savedAtMs, history, isMarked })
    const tellNot = timing.after(tellAfterMs, () =>
      own === hold ? say({ kind: 'failed', reason: 'slow', message: 'the browser does not answer' }) : undefined,
    )
    const revision = await put()
      .then(async (made) => (made === null && (await isGone(own)) ? put() : made))
      .catch((error: unknown) => say(keepFailure(error)))
    tellNot()
    underway = null
    const endedAtMs = timing.now()
    restUntilMs = endedAtMs + Math.min(endedAtMs - begunAtMs, longestRestMs)
    if (revision === null) return false
    if (revision !== undefined) {
      Object.assign(own.known, { base: revision, written: committed, keptAtMs: savedAtMs } satisfies Known)
      own.isMarked = false
      news?.tell(id)
      if (own === hold) say({ kind: 'kept', atMs: savedAtMs })
    }
    // What was changed meanwhile; what was not written now is tried again with the next change, or a while later.
    if (isDirty() && planStore.getState().committed !== committed) schedule()
    else if (revision === undefined && own === hold && !isStopped) callOffAgain = timing.after(againAfterMs, () => void flush())
    return true
  }
  /** Nothing of the plan lies on the shelf any more: the person had the browser throw everything away, under the open page. */
  async function isGone(own: Hold): Promise<boolean> {
    const { current } = await shelf.read(own.id)
    if (current?.id === own.id) return false
    own.known.base = 0
    return true
  }
  const writeNow = async (): Promise<void> => {
    const own = hold
    if (!(await write(own, planStore.getState())) && own === hold) lose(own)
  }
  const flush = (): Promise<void> => {
    callOff?.()
    callOff = null
    return enqueue(writeNow)
  }
  function schedule(): void {
    if (isStopped) return
    if (!hold.mayWrite) {
      const { kind } = status.getState()
      if (kind === 'elsewhere') say({ kind, hasOwn: isDirty() })
      else if (kind !== 'failed') say({ kind: 'waiting' })
      return
    }
    if (status.getState().kind !== 'failed') say({ kind: 'waiting' })
    noteDown(planStore.getState().committed)
    // When a write ends it is looked whether there is more.
    if (underway !== null) return
    const restMs = Math.max(0, restUntilMs - timing.now())
    // A plan of which nothing lies there yet has nothing that a note could be a change of: the whole of it goes at once.
    if (hold.known.base === 0 && restMs === 0) void flush()
    else callOff ??= timing.after(restMs, () => void flush())
  }

  /** If the page dies before the write is through, the step is not lost. */
  function noteDown(plan: Plan): void {
    const { base, written } = hold.known
    const from = underway ?? written
    const on = underway === null ? base : base + 1
    if (from === null || on === 0 || from === plan) return
    const note = { id: hold.id, base: on, patch: patchBetween(from, plan) }
    // What keeps it from being noted keeps it from being written, and is told then.
    shelf.note(note).catch(() => undefined)
  }

  const unsubscribe = planStore.subscribe((state, before) => {
    // What another page wrote during a drag is shown when the drag was given up; one that is gone by then is gone on from.
    if (state.transaction === null && before.transaction !== null && !hold.mayWrite)
      void enqueue(() => (hold.isHeld && !isDirty() ? resume(hold) : follow(hold)))
    if (state.committed === before.committed) return
    if (state.loaded === before.loaded) schedule()
    else if (!isFollowing) change(state.committed, before)
  })

  /** Another plan is on the desk: what was done in the last one is written, and the right to it is let go. */
  function change(plan: Plan, before: PlanState): void {
    const last = hold
    const to = next
    next = null
    if (to !== null && to.kind !== 'example' && to.id === last.id) {
      // It is the same one in another state.
      last.isMarked = true
      schedule()
      return
    }
    hold = holdNew(to === null || to.kind === 'example' ? planIdNew() : to.id, knownOf(to, plan))
    past = last
    hold.isMarked = to?.kind === 'version'
    void enqueue(async () => {
      await write(last, before)
      last.claim.release()
    })
    say(statusOf(hold.known))
    ask(hold)
  }
  function knownOf(to: NextPlan | null, plan: Plan): Known {
    switch (to?.kind) {
      case 'kept':
        return { base: to.revision, written: plan, keptAtMs: to.savedAtMs }
      case 'version':
        return { base: to.revision, written: null, keptAtMs: null }
      case 'before':
        return past?.id === to.id ? past.known : { base: 0, written: null, keptAtMs: null }
      case 'example':
        return { base: 0, written: plan, keptAtMs: null }
      case undefined:
        return { base: 0, written: null, keptAtMs: null }
    }
  }

  /** The right is had: is the plan on the shelf still as this page knows it? */
  async function resume(own: Hold): Promise<void> {
    if (own !== hold || isStopped) return
    try {
      const found = await lying(own)
      if ((found?.there.revision ?? 0) !== own.known.base) {
        if (isDirty() || planStore.getState().transaction !== null) return lose(own)
        if (found !== null) show(own, found)
      }
      if (found !== null && found.noted.length > 0 && !isDirty()) showNoted(found)
      if (found !== null) await shelf.laid(own.id)
      say(statusOf(own.known))
    } catch (error) {
      // The shelf fails, not the right to it: each change tries again.
      say(keepFailure(error))
    }
    own.mayWrite = true
    await writeNow()
  }

  async function lying(own: Hold): Promise<Lying | null> {
    const { current, noted } = await shelf.read(own.id)
    return current?.id === own.id ? { there: current, noted, reading: await readingLate.bring() } : null
  }

  /** Puts on the desk what another page wrote of the plan. */
  function show(own: Hold, { there, reading }: Lying): void {
    const read = reading.planParse(there.document)
    if (!read.ok || own !== hold) return
    loadTheirs(read.plan, reading.historyRestored(read.plan, there.history))
    Object.assign(own.known, { base: there.revision, written: planStore.getState().committed, keptAtMs: there.savedAtMs } satisfies Known)
  }

  /** The page that wrote last died before it had written all: what it noted down is done here. */
  function showNoted({ noted, reading }: Lying): void {
    const { committed, undoStack } = planStore.getState()
    const patch = noted.reduce(patchSquash)
    const read = reading.planParse(patchApply(committed, patch))
    if (!read.ok) return
    loadTheirs(read.plan, { undo: [...undoStack, { label: 'What was done last', patch }], redo: [] })
  }

  /** The same plan in a state that was made elsewhere: no other plan on the desk. */
  function loadTheirs(plan: Plan, history: History): void {
    isFollowing = true
    try {
      planStore.getState().load(plan, history)
    } finally {
      isFollowing = false
    }
  }

  /** Another page wrote: this one, if nothing was done here since it lost the right, shows what lies on the shelf now. */
  async function follow(own: Hold, isForced = false): Promise<void> {
    const isFree = (): boolean =>
      own === hold && !own.mayWrite && !isStopped && planStore.getState().transaction === null && (isForced || !isDirty())
    if (!isFree()) return
    try {
      const found = await lying(own)
      if (found === null || (found.there.revision === own.known.base && !isDirty()) || !isFree()) return
      show(own, found)
      say({ kind: 'elsewhere', hasOwn: isDirty() })
    } catch {
      // The shelf cannot be read just now: the next news tries again, and what is shown is what was known.
    }
  }
  news?.listen((planId) => (planId === hold.id ? void enqueue(() => follow(hold)) : undefined))
  ask(hold)

  /** As often as the other page may get a last write in between. */
  async function takeOver(own: Hold, tries = 3): Promise<void> {
    const found = await lying(own)
    if (!isDirty() && found !== null) show(own, found)
    own.known.base = found?.there.revision ?? 0
    own.mayWrite = true
    own.isMarked = true
    say(statusOf(own.known))
    if (await write(own, planStore.getState())) return
    if (tries > 1) return takeOver(own, tries - 1)
    lose(own)
  }

  return {
    status,
    planId: () => hold.id,
    isUnkept: () => isDirty() && (status.getState().kind === 'failed' || status.getState().kind === 'elsewhere'),
    flush,
    follow: () => enqueue(() => follow(hold, true)),
    nextIs(plan) {
      next = plan
    },
    takeOver: () =>
      enqueue(async () => {
        const own = hold
        own.claim.take()
        try {
          await takeOver(own)
        } catch (error) {
          say(keepFailure(error))
        }
      }),
    stop() {
      isStopped = true
      callOff?.()
      callOffAgain()
      unsubscribe()
      hold.claim.release()
      news?.stop()
    },
  }
}

function statusOf({ keptAtMs, written }: Known): KeepStatus {
  if (keptAtMs !== null) return { kind: 'kept', atMs: keptAtMs }
  return written === null ? { kind: 'waiting' } : { kind: 'fresh' }
}
