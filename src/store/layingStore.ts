import { createStore } from 'zustand/vanilla'
import type { StoreApi } from 'zustand/vanilla'
import type { Plan } from '../core/plan/types.ts'
import type { Engine } from '../engine/protocol.ts'
import { timingReal } from './timing.ts'
import type { Timing } from './timing.ts'
import type { LayingStoreState, PlanStoreState, SessionStoreState, StageName } from './types.ts'

/** The stages that show what is cut and laid; the lists follow the plan while one of them is open. */
const layingStages: ReadonlySet<StageName> = new Set(['roadbed', 'track'])

/** Longer than the pause between two edits of one thought. */
const restMs = 400

/** After so long the search for fewer sticks ends with the best so far. */
const budgetSeconds = 20

/** Nothing that is cut hangs on what has been ticked off or silenced. */
const besides: ReadonlySet<string> = new Set(['ticks', 'silences'] satisfies (keyof Plan)[])

function isCutAlike(a: Plan, b: Plan): boolean {
  const keys = [...new Set([...Object.keys(a), ...Object.keys(b)])] as (keyof Plan)[]
  return keys.every((key) => besides.has(key) || a[key] === b[key])
}

/**
 * The store of what the plan is cut into. It is made when a stage of laying is open and the plan has rested for a moment, and made anew
 * after each committed change; until then the last lists stay, with the plan that they belong to.
 */
export function layingStoreCreate(
  planStore: StoreApi<PlanStoreState>,
  sessionStore: StoreApi<SessionStoreState>,
  engine: Pick<Engine, 'laying'>,
  timing: Timing = timingReal,
): StoreApi<LayingStoreState> {
  let callOff: (() => void) | null = null
  /** The plan that is being worked on; null: none, or its work is not wanted any more. */
  let underway: { readonly plan: Plan; isWanted: boolean; isStopped: boolean } | null = null

  const store = createStore<LayingStoreState>()(() => ({
    answer: null,
    answerFor: null,
    work: { kind: 'rest' },
    stop: () => {
      if (underway !== null) underway.isStopped = true
    },
    again: () => {
      store.setState({ work: { kind: 'rest' } })
      void make(planStore.getState().committed)
    },
  }))

  async function make(plan: Plan): Promise<void> {
    if (underway !== null) underway.isWanted = false
    const mine = { plan, isWanted: true, isStopped: false }
    underway = mine
    store.setState({ work: { kind: 'working', progress: { kind: 'derive' } } })
    try {
      const answer = await engine.laying(plan, budgetSeconds, (progress) => {
        if (mine.isWanted) store.setState({ work: { kind: 'working', progress } })
        return mine.isWanted && !mine.isStopped
      })
      if (mine.isWanted) store.setState({ answer, answerFor: plan, work: { kind: 'rest' } })
    } catch (error) {
      if (mine.isWanted) store.setState({ work: { kind: 'failed', message: error instanceof Error ? error.message : String(error) } })
    }
    if (underway !== mine) return
    underway = null
    if (store.getState().work.kind === 'rest') follow()
  }

  function follow(): void {
    callOff?.()
    callOff = null
    const { committed } = planStore.getState()
    const { answerFor } = store.getState()
    if (!layingStages.has(sessionStore.getState().stage) || committed === answerFor) return
    if (underway !== null && isCutAlike(committed, underway.plan)) return
    if (underway === null && answerFor !== null && isCutAlike(committed, answerFor)) {
      store.setState({ answerFor: committed })
      return
    }
    callOff = timing.after(store.getState().answerFor === null ? 0 : restMs, () => void make(committed))
  }

  planStore.subscribe((state, before) => {
    if (state.committed !== before.committed) follow()
  })
  sessionStore.subscribe((state, before) => {
    if (state.stage !== before.stage) follow()
  })
  follow()
  return store
}
