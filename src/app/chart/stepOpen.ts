import type { PlanCommand } from '../../core/edit/types.ts'
import type { Id } from '../../core/plan/types.ts'
import { editLabel } from '../../words/editLabel.ts'
import { alignmentProblemText, editProblemText, placementProblemText } from '../../words/problemText.ts'
import type { Stores } from '../context.ts'

/** One step of the person while it is being made: by a hand that pulls, or by keys held down. */
export interface OpenStep {
  /** Puts this in place of what was tried before; why it cannot be, in words, when the last that could stays. */
  attempt(command: PlanCommand): string | null
  keep(): void
  giveUp(): void
}

/** What a step is about: what of it must be laid before and after. */
export interface StepSubject {
  readonly track: Id
  /** A turnout that is slid along it; null: none. */
  readonly turnout: Id | null
}

/**
 * Opens a step that only ever holds what the track can be laid with: the chart has nothing to show of a line that is not solved, and a
 * hand would lose what it holds.
 */
export function stepOpen(stores: Stores, subject: StepSubject, first: PlanCommand): OpenStep {
  const plan = (): ReturnType<Stores['plan']['getState']> => stores.plan.getState()
  const label = editLabel(first, plan().plan)
  plan().begin(label)
  const wasTrouble = troubleOf(stores, subject) !== null
  let good: PlanCommand | null = null
  const back = (): void => {
    if (good !== null) plan().replace(good)
    else {
      plan().cancel()
      plan().begin(label)
    }
  }
  return {
    attempt(command) {
      // Something else has ended the step: what comes now would be another one.
      if (plan().transaction === null) return null
      const result = plan().replace(command)
      if (!result.ok) return editProblemText(result.problem, plan().plan)
      const trouble = wasTrouble ? null : troubleOf(stores, subject)
      if (trouble === null) good = command
      else back()
      return trouble
    },
    keep: () => plan().commit(),
    giveUp: () => plan().cancel(),
  }
}

/** The same for a value that is typed: one whole step, or none. */
export function stepWhole(stores: Stores, subject: StepSubject, command: PlanCommand): string | null {
  const step = stepOpen(stores, subject, command)
  const trouble = step.attempt(command)
  if (trouble === null) step.keep()
  else step.giveUp()
  return trouble
}

/** What keeps the track from being laid, or the turnout from its place; null: nothing. */
function troubleOf(stores: Stores, { track, turnout }: StepSubject): string | null {
  const { network } = stores.derived.getState().derived
  const { plan } = stores.plan.getState()
  const prefs = stores.prefs.getState()
  const solved = network.tracks.get(track)
  const problem = solved === undefined || solved.alignment.ok ? undefined : solved.alignment.problems[0]
  if (problem !== undefined) return alignmentProblemText(problem, solved?.track, plan, prefs)
  const placed = turnout === null ? undefined : network.turnouts.get(turnout)?.result
  return placed === undefined || placed.ok ? null : placementProblemText(placed.problem, prefs)
}
