import { editLabel } from '../words/editLabel.ts'
import type { PlanCommand } from '../core/edit/types.ts'
import { useStores } from './context.ts'
import type { Stores } from './context.ts'
import type { Keep } from './fields/ValueField.tsx'
import { editProblemText } from '../words/problemText.ts'

/** Does one command as one step. What is wrong comes back in words and stands in the notice line. */
export function planEdit(stores: Stores, command: PlanCommand): { readonly problem: string | null; readonly added: string | null } {
  const { plan, apply } = stores.plan.getState()
  const result = apply(command)
  if (result.ok) {
    stores.session.getState().setNotice(null)
    return { problem: null, added: result.added }
  }
  const problem = editProblemText(result.problem, plan)
  stores.session.getState().setNotice(problem)
  return { problem, added: null }
}

/** How a field keeps its value in the plan: typed values are a step each, a held arrow is one step together. */
export function keepInPlan<V>(stores: Stores, toCommand: (value: V) => PlanCommand): Keep<V> {
  const store = stores.plan
  return {
    commit: (value) => planEdit(stores, toCommand(value)).problem,
    nudge: (value) => {
      const command = toCommand(value)
      if (store.getState().transaction === null) store.getState().begin(editLabel(command, store.getState().plan))
      const result = store.getState().replace(command)
      return result.ok ? null : editProblemText(result.problem, store.getState().plan)
    },
    settle: () => {
      if (store.getState().transaction !== null) store.getState().commit()
    },
  }
}

/** keepInPlan for the workbench at hand. */
export function useKeepInPlan(): <V>(toCommand: (value: V) => PlanCommand) => Keep<V> {
  const stores = useStores()
  return (toCommand) => keepInPlan(stores, toCommand)
}
