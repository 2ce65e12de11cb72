import type { EditProblem } from '../core/edit/types.ts'
import { pipelineCreate } from '../core/pipeline/index.ts'
import type { Plan } from '../core/plan/types.ts'
import type { PlanChecks } from '../engine/planChecks.ts'
import type { Engine } from '../engine/protocol.ts'
import { derivedStoreCreate, layingStoreCreate, planStoreCreate, prefsStoreCreate, sessionStoreCreate } from '../store/index.ts'
import type { History, TextStorage } from '../store/index.ts'
import type { Prefs, SessionState } from '../store/types.ts'
import type { Stores } from './context.ts'
import { selectionKeep } from './selectionKept.ts'

/** The stores of a workbench with this plan on it, and the checks that look through it. */
export function storesCreate(
  plan: Plan,
  checks: PlanChecks,
  engine: Pick<Engine, 'laying'>,
  session: Partial<SessionState> = {},
  storage: TextStorage | null = null,
  history?: History,
  likely: Partial<Prefs> = {},
): Stores {
  const sessionStore = sessionStoreCreate(session)
  const refused = async (problem: EditProblem, at: Plan): Promise<void> => {
    sessionStore.getState().setNotice((await import('../words/problemText.ts')).editProblemText(problem, at))
  }
  const planStore = planStoreCreate(plan, history, { refused: (problem, at) => void refused(problem, at) })
  const stores: Stores = {
    plan: planStore,
    session: sessionStore,
    prefs: prefsStoreCreate(storage, likely),
    derived: derivedStoreCreate(planStore, pipelineCreate(), checks),
    laying: layingStoreCreate(planStore, sessionStore, engine),
    checks,
  }
  selectionKeep(stores)
  return stores
}
