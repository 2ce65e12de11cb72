import { createStore } from 'zustand/vanilla'
import type { StoreApi } from 'zustand/vanilla'
import { planParse } from '../core/plan/index.ts'
import type { Plan } from '../core/plan/index.ts'
import type { Claim } from './claim.ts'
import type { ShelfNews } from './news.ts'
import { historyToKeep } from './history.ts'
import type { History } from './history.ts'
import { timingReal } from './timing.ts'
import type { Timing } from './timing.ts'
import { keepFailure, planIdNew } from './shelf.ts'
import type { PlanShelf, Restored } from './shelf.ts'
import type { KeepStatus, PlanStoreState } from './types.ts'

/** From a change to its write: a burst of steps becomes one write, and a crash costs no more than this. */
const delayMs = 200

export interface Autosave {
  readonly status: StoreApi<KeepStatus>
  /** Writes what is not written yet; settles when that is done or has failed. */
  flush(): Promise<void>
  /** Makes this page the one that writes; what the other wrote last is kept as the previous version. */
  takeOver(): Promise<void>
  /** The plan that is loaded next is this one of the shelf; without it a loaded plan is a new one. */
  nextIs(planId: string): void
  stop(): void
}

/**
 * Keeps every committed change of the plan on the shelf. An open drag is not written.
 *
 * A write goes through only if the shelf still holds what this page last read or wrote, so two pages cannot silently write over each
 * other, whatever becomes of locks; the one that is late says 'elsewhere' and writes no more until it takes over.
 * Throws: never; what goes wrong is in `status`, and the next change tries again.
 */
export function autosaveStart(options: {
  readonly planStore: StoreApi<PlanStoreState>
  readonly shelf: PlanShelf
  readonly restored: Restored
  readonly claim: Claim
  /** How pages tell each other that the shelf changed; without it none follows. */
  readonly news?: ShelfNews
  readonly timing?: Timing
  /** Milliseconds since 1970. */
  readonly clock?: () => number
}): Autosave {
  const { planStore, shelf, restored, claim, news, timing = timingReal, clock = Date.now } = options
  const status = createStore<KeepStatus>()(() => statusAtStart(restored))
  const say = (next: KeepStatus): void => status.setState(next, true)

  const history = (): History => {
    const { undoStack, redoStack } = planStore.getState()
    return historyToKeep({ undo: undoStack, redo: redoStack })
  }

  let base = restored.revision
  let written: Plan = planStore.getState().committed
  let isOther = false
  let planId = restored.planId ?? planIdNew()
  let nextId: string | undefined
  let mayWrite = false
  let isStopped = false
  let isFollowing = false
  let callOff: (() => void) | null = null
  let queue: Promise<void> = Promise.resolve()

  const isDirty = (): boolean => planStore.getState().committed !== written
  const loseRight = (): void => {
    mayWrite = false
    say({ kind: 'elsewhere' })
  }

  const write = async (): Promise<void> => {
    const plan = planStore.getState().committed
    if (!mayWrite || plan === written) return
    const [replaces, id] = [isOther, planId]
    try {
      const atMs = clock()
      const revision = await shelf.write(base, plan, atMs, replaces, history(), id)
      if (revision === null) {
        loseRight()
        return
      }
      base = revision
      written = plan
      if (replaces && planId === id) isOther = false
      news?.tell()
      say(isDirty() ? { kind: 'waiting' } : { kind: 'kept', atMs })
    } catch (error) {
      say(keepFailure(error))
    }
  }
  // One write after the other: each must know the revision that the one before it made.
  const enqueue = (job: () => Promise<void>): Promise<void> => {
    queue = queue.then(job)
    return queue
  }
  const flush = (): Promise<void> => {
    callOff?.()
    callOff = null
    return enqueue(write)
  }
  const schedule = (): void => {
    if (!mayWrite || isStopped) return
    if (status.getState().kind !== 'failed') say({ kind: 'waiting' })
    callOff ??= timing.after(delayMs, () => void flush())
  }

  const unsubscribe = planStore.subscribe((state, before) => {
    if (state.committed === before.committed) return
    // Only `load` leaves no step to go back to or forward: this is another plan and not a change of the last one.
    if (state.undoStack.length === 0 && state.redoStack.length === 0) {
      if (isFollowing) return
      isOther = true
      planId = nextId ?? planIdNew()
      nextId = undefined
    }
    schedule()
  })

  /** The right is had: is the shelf still as this page knows it? */
  const resume = async (): Promise<void> => {
    try {
      const { current } = await shelf.read()
      if ((current?.revision ?? 0) !== base) return loseRight()
      if (status.getState().kind === 'elsewhere') say(statusAtStart(restored))
    } catch (error) {
      // The shelf fails, not the right to it: each change tries again.
      say(keepFailure(error))
    }
    mayWrite = true
    await write()
  }
  claim.ask((isHeld) => {
    if (isStopped) return
    if (isHeld) void enqueue(resume)
    else loseRight()
  })

  /** Another page wrote: this one, if nothing was done here since it lost the right, shows what lies on the shelf now. */
  const follow = async (): Promise<void> => {
    if (mayWrite || isStopped || isDirty() || planStore.getState().transaction !== null) return
    try {
      const { current } = await shelf.read()
      const read = current === null || current.document === null ? null : planParse(current.document)
      if (current === null || read?.ok !== true || isDirty()) return
      isFollowing = true
      planStore.getState().load(read.plan)
      base = current.revision
      planId = current.planId ?? planId
      written = planStore.getState().committed
    } catch {
      // The shelf cannot be read just now: the next news tries again, and what is shown is what was known.
    } finally {
      isFollowing = false
    }
  }
  news?.listen(() => void enqueue(follow))

  return {
    status,
    flush,
    nextIs(planId) {
      nextId = planId
    },
    takeOver: () =>
      enqueue(async () => {
        claim.take()
        try {
          const { current } = await shelf.read()
          base = current?.revision ?? 0
          mayWrite = true
          const plan = planStore.getState().committed
          const atMs = clock()
          const revision = await shelf.write(base, plan, atMs, true, history(), planId)
          if (revision === null) return loseRight()
          base = revision
          written = plan
          isOther = false
          news?.tell()
          say({ kind: 'kept', atMs })
        } catch (error) {
          say(keepFailure(error))
        }
      }),
    stop() {
      isStopped = true
      callOff?.()
      unsubscribe()
      claim.release()
      news?.stop()
    },
  }
}

function statusAtStart(restored: Restored): KeepStatus {
  if (restored.failed !== null) return restored.failed
  return restored.plan === null || restored.savedAtMs === null ? { kind: 'fresh' } : { kind: 'kept', atMs: restored.savedAtMs }
}
