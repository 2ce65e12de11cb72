import { createStore } from 'zustand/vanilla'
import type { StoreApi } from 'zustand/vanilla'
import { patchApply, patchEmpty, patchInvert, patchIsEmpty, patchLeavesAny, patchSquash } from '../core/edit/index.ts'
import type { EditProblem, EditResult, PlanCommand, PlanPatch } from '../core/edit/index.ts'
import type { Plan } from '../core/plan/index.ts'
import type { Late } from '../engine/late.ts'
import { editLate } from './editLate.ts'
import type { editing } from './editing.ts'
import { historyNone } from './history.ts'
import { makersLate } from './makersLate.ts'
import type { MakersFollowing } from './makersLate.ts'
import type { History, PlanState, PlanStoreState } from './types.ts'

/** Steps that can be undone. A patch of a drag is some hundred bytes, so this costs less than a megabyte; nobody makes more at one sitting. */
const historyLimit = 2000

export interface PlanStoreParts {
  readonly makers: Late<MakersFollowing>
  readonly edits: Late<typeof editing>
  /** Hears of a command that waited and then could not be done. */
  readonly refused: (problem: EditProblem, plan: Plan) => void
}

/**
 * The store of the document: every change is a command, every step an invertible patch.
 *
 * A transaction keeps the plan from its beginning; each `replace` starts again from there, so a drag leaves no trace of the way it
 * took. Its patch lives here and not in the state, because only commit needs it. A command while a transaction is open first commits that.
 * Makers follow every change within its own step; until what they follow by has come, the last step is completed when it does.
 * Until what edits has come, commands wait for it in turn, and all that is done after them; `refused` hears of those that then are none.
 */
export function planStoreCreate(
  plan: Plan,
  history: History = historyNone,
  { makers = makersLate, edits = editLate, refused = () => undefined }: Partial<PlanStoreParts> = {},
): StoreApi<PlanStoreState> {
  let open: PlanPatch = patchEmpty
  let following: ReturnType<MakersFollowing> | null = null
  let completeStep = (): void => undefined
  const follow = (base: Plan, patch: PlanPatch): PlanPatch => {
    following ??= makers.now()?.() ?? null
    if (following !== null) return following(base, patch)
    // What cannot come now is asked for again by the next change.
    if (patchLeavesAny(base, patch, 'makers')) makers.bring().then(completeStep, () => undefined)
    return patch
  }
  let waiting: (() => void)[] = []
  const goOn = (): void => {
    const held = waiting
    waiting = []
    for (const act of held) act()
  }
  /** What cannot come now is asked for again by the next command. */
  const hold = (act: () => void): void => {
    waiting.push(act)
    edits.bring().then(goOn, () => undefined)
  }
  const told = (result: EditResult, at: Plan): void => {
    if (!result.ok) refused(result.problem, at)
  }
  const edit = (by: typeof editing, base: Plan, command: PlanCommand): EditResult => {
    const result = by.patchOf(base, command)
    return result.ok ? { ...result, patch: follow(base, result.patch) } : result
  }
  return createStore<PlanStoreState>()((set, get) => {
    const step = (label: string, patch: PlanPatch, state: PlanState): Partial<PlanState> => {
      if (patchIsEmpty(patch)) return { plan: state.committed, transaction: null }
      const after = patchApply(state.committed, patch)
      return {
        plan: after,
        committed: after,
        undoStack: [...state.undoStack, { label, patch }].slice(-historyLimit),
        redoStack: [],
        transaction: null,
      }
    }
    /** The last step goes on; one that comes back to where it began is none. */
    const longer = (patch: PlanPatch, { committed, undoStack }: PlanState): Partial<PlanState> => {
      const last = undoStack.at(-1)
      const whole = last === undefined ? patch : patchSquash(last.patch, patch)
      const after = patchApply(committed, patch)
      const before = undoStack.slice(0, -1)
      return {
        plan: after,
        committed: after,
        undoStack: last === undefined || patchIsEmpty(whole) ? before : [...before, { ...last, patch: whole }],
        redoStack: [],
      }
    }
    completeStep = () => {
      const { transaction, committed, undoStack } = get()
      if (transaction !== null) {
        open = follow(transaction.base, open)
        set({ plan: patchApply(transaction.base, open) })
        return
      }
      const last = undoStack.at(-1)
      if (last === undefined) return
      const base = patchApply(committed, patchInvert(last.patch))
      const patch = follow(base, last.patch)
      if (patch === last.patch) return
      const after = patchApply(base, patch)
      set({ plan: after, committed: after, undoStack: [...undoStack.slice(0, -1), { ...last, patch }] })
    }
    return {
      ...planStateFresh(plan, history, 0),
      apply(command, isMore = false) {
        const by = edits.now()
        if (by === null || waiting.length > 0) {
          hold(() => told(get().apply(command, isMore), get().committed))
          return heldResult
        }
        if (get().transaction !== null) get().commit()
        const { committed } = get()
        const result = edit(by, committed, command)
        if (result.ok && !patchIsEmpty(result.patch)) {
          const label = by.labelOf(command, committed)
          set(isMore && get().undoStack.at(-1)?.label === label ? longer(result.patch, get()) : step(label, result.patch, get()))
        }
        return result
      },
      begin(label) {
        if (waiting.length > 0) return hold(() => get().begin(label))
        if (get().transaction !== null) get().commit()
        open = patchEmpty
        set({ transaction: { label, base: get().committed } })
      },
      replace(command): EditResult {
        const by = edits.now()
        if (by === null || waiting.length > 0) {
          hold(() => told(get().replace(command), get().plan))
          return heldResult
        }
        const { transaction } = get()
        if (transaction === null) return get().apply(command)
        const result = edit(by, transaction.base, command)
        if (result.ok) {
          open = result.patch
          set({ plan: patchApply(transaction.base, open) })
        }
        return result
      },
      commit() {
        if (waiting.length > 0) return hold(() => get().commit())
        const { transaction } = get()
        if (transaction === null) return
        set(step(transaction.label, open, get()))
        open = patchEmpty
      },
      cancel() {
        if (waiting.length > 0) return hold(() => get().cancel())
        if (get().transaction === null) return
        open = patchEmpty
        set({ plan: get().committed, transaction: null })
      },
      undo: () => travel('undoStack', 'redoStack', patchInvert),
      redo: () => travel('redoStack', 'undoStack', (patch) => patch),
      travel: (steps) =>
        steps < 0 ? travel('undoStack', 'redoStack', patchInvert, -steps) : travel('redoStack', 'undoStack', (patch) => patch, steps),
      load(next, past = historyNone) {
        // What waits was meant for the plan before.
        waiting = []
        open = patchEmpty
        set(planStateFresh(next, past, get().loaded + 1))
      },
    }

    function travel(from: StackName, to: StackName, direction: (patch: PlanPatch) => PlanPatch, steps = 1): boolean {
      if (waiting.length > 0) {
        hold(() => void travel(from, to, direction, steps))
        return true
      }
      const state = get()
      if (steps === 0) return true
      if (steps > state[from].length || state.transaction !== null) return false
      const entries = state[from].slice(-steps).toReversed()
      const after = entries.reduce((plan, { patch }) => patchApply(plan, direction(patch)), state.committed)
      set({ plan: after, committed: after, [from]: state[from].slice(0, -steps), [to]: [...state[to], ...entries] })
      return true
    }
  })
}

/** What a command comes to while it waits: nothing yet. */
const heldResult: EditResult = { ok: true, patch: patchEmpty, added: null }

type StackName = 'undoStack' | 'redoStack'

function planStateFresh(plan: Plan, { undo, redo }: History, loaded: number): PlanState {
  return { plan, committed: plan, undoStack: undo, redoStack: redo, transaction: null, loaded }
}
