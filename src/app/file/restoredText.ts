import type { Plan, PlanProblem } from '../../core/plan/index.ts'
import { planFileProblemText } from '../../words/fileText.ts'

/** What is said when the plan kept in this browser cannot be read; plan: the one on the desk instead. */
export function restoredText(problem: PlanProblem, plan: Plan | null): string {
  const what = plan === null ? 'Another one is on the desk' : 'As it was one step before, it is on the desk as another plan'
  return `The plan kept in this browser cannot be opened. ${planFileProblemText(problem)} It stays on the shelf, unharmed (File, Plans in this browser). ${what}.`
}
