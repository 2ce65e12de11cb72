import type { StretchProblem } from '../core/stretch/index.ts'
import type { Plan } from '../core/plan/types.ts'
import { recordName, upperFirst } from './names.ts'

/** Why what was chosen does not move as one. */
export function stretchProblemText(problem: StretchProblem, plan: Plan): string {
  switch (problem.kind) {
    case 'nothing':
      return 'Nothing is chosen that could be moved.'
    case 'tied':
      return `${upperFirst(recordName(plan, 'tracks', problem.track))} hangs on ${recordName(plan, 'turnouts', problem.turnout)}, which would stay. Choose the track of that turnout as well.`
    case 'alone':
      return `${upperFirst(recordName(plan, problem.table, problem.id))} goes with ${recordName(plan, problem.on.table, problem.on.id)}. Choose that as well.`
    case 'notMovable':
      return `${upperFirst(recordName(plan, problem.table, problem.id))} does not lie in the plan by itself; leave it out of the choice.`
  }
}
