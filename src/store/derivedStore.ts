import { createStore } from 'zustand/vanilla'
import type { StoreApi } from 'zustand/vanilla'
import type { Finding } from '../core/checks/types.ts'
import type { Derived } from '../core/pipeline/types.ts'
import type { Plan } from '../core/plan/index.ts'
import type { DerivedStoreState, PlanStoreState } from './types.ts'

/** Clock and timer, so that a test can hold them. `after` gives back what calls the job off. */
export interface Timing {
  now(): number
  after(ms: number, job: () => void): () => void
}

export const timingReal: Timing = {
  now: () => performance.now(),
  after(ms, job) {
    const timer = setTimeout(job, ms)
    return () => clearTimeout(timer)
  },
}

/**
 * Checks that took less than this run with every step of a drag; it leaves three quarters of a 60 Hz frame to the screen. More, and a
 * drag of a large plan would stutter; less, and findings of small plans would lag for no reason.
 */
const cheapMs = 4
/** How long a drag must rest before dear checks run: shorter than a person takes to look from the hand to the findings. */
const restMs = 120

/**
 * The store of what follows from the plan. Geometry is derived at once with each change, findings at once when the last check was
 * cheap, else when the drag rests; until then `findingsFor` is the older plan that they belong to.
 */
export function derivedStoreCreate(
  planStore: StoreApi<PlanStoreState>,
  pipeline: { derive(plan: Plan): Derived },
  check: (derived: Derived) => readonly Finding[],
  timing: Timing = timingReal,
): StoreApi<DerivedStoreState> {
  let costMs = 0
  const checkTimed = (derived: Derived): DerivedStoreState => {
    const before = timing.now()
    const findings = check(derived)
    costMs = timing.now() - before
    return { derived, findings, findingsFor: derived.plan }
  }
  const first = pipeline.derive(planStore.getState().plan)
  const store = createStore<DerivedStoreState>()(() => checkTimed(first))
  let callOff = (): void => undefined
  planStore.subscribe(({ plan, transaction }, before) => {
    const isLate = store.getState().findingsFor !== plan
    // A drag that ends changes no plan, but its findings need not wait any longer.
    if (plan === before.plan && !(isLate && transaction === null && before.transaction !== null)) return
    callOff()
    const derived = pipeline.derive(plan)
    if (costMs < cheapMs) {
      store.setState(checkTimed(derived))
      return
    }
    store.setState({ derived })
    callOff = timing.after(transaction === null ? 0 : restMs, () => store.setState(checkTimed(derived)))
  })
  return store
}
