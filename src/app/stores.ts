import { pipelineCreate } from '../core/pipeline/index.ts'
import type { Plan } from '../core/plan/types.ts'
import type { PlanChecks } from '../engine/planChecks.ts'
import { derivedStoreCreate, planStoreCreate, prefsStoreCreate, sessionStoreCreate } from '../store/index.ts'
import type { History, TextStorage } from '../store/index.ts'
import type { SessionState } from '../store/types.ts'
import type { Stores } from './context.ts'

/** The four stores of a workbench with this plan on it, and the checks that look through it. */
export function storesCreate(
  plan: Plan,
  checks: PlanChecks,
  session: Partial<SessionState> = {},
  storage: TextStorage | null = null,
  history?: History,
): Stores {
  const planStore = planStoreCreate(plan, history)
  return {
    plan: planStore,
    session: sessionStoreCreate(session),
    prefs: prefsStoreCreate(storage),
    derived: derivedStoreCreate(planStore, pipelineCreate(), checks),
    checks,
  }
}
