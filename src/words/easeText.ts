import type { CorridorParting, FairBind, FairProblem } from '../core/alignment/index.ts'
import type { FairPlanProblem } from '../core/pipeline/index.ts'
import { tableNames } from '../core/plan/index.ts'
import type { Plan } from '../core/plan/types.ts'
import type { MeasurePrefs } from './measure.ts'
import { lengthText } from './measure.ts'
import { recordName } from './names.ts'

/** What holds an eased line, in a few words. */
export function bindText(bind: FairBind, plan: Plan): string {
  switch (bind.kind) {
    case 'chain':
      return chainText(bind.label, plan)
    case 'side':
      return 'curves meet'
    case 'held':
      return 'a held straight'
  }
}

/** What a line comes near to. Chains are labelled by table and id; the benchwork counts as one. */
export function chainText(label: string, plan: Plan): string {
  if (label === 'benchworks') return 'the edge of the benchwork'
  const [table, id] = label.split(':')
  const known = tableNames.find((name) => name === table)
  return known === undefined || id === undefined ? label : recordName(plan, known, id)
}

/** Why a line is not eased. */
export function easeProblemText(problem: FairPlanProblem | FairProblem, plan: Plan, prefs: MeasurePrefs): string {
  switch (problem.kind) {
    case 'trackMissing':
      return 'This track is no longer there.'
    case 'trackUnsolved':
    case 'lineUnsolved':
      return 'The line of this track is not solved; its particulars say what hinders it.'
    case 'compoundCurve':
      return 'A curve of several radii would be lost; give its corner one radius first.'
    case 'corridorEmpty':
      return `The benchwork is nowhere as wide as twice the margin of ${lengthText(problem.marginMm, prefs)}. A smaller margin would do.`
    case 'corridorParted':
      return partingText(problem.parting, prefs)
    case 'noCurve':
      return 'Nothing turns here: a straight cannot be eased. Choose a track with a curve.'
    case 'outside':
      return `At station ${lengthText(problem.stationMm, prefs, 'room')} the line is ${lengthText(problem.byMm, prefs)} too near to ${chainText(problem.label, plan)}. Move it away from there first.`
    case 'notFinite':
      return `A value is no number that can be worked with: ${problem.where}.`
    case 'solverFailed':
      return `The easing came to no answer (${problem.says}). The line stays as it is.`
  }
}

/** Where the benchwork less its margins is in pieces, and the margin that would do. */
export function partingText({ fromMm, toMm, askedMm, mostMm }: CorridorParting, prefs: MeasurePrefs): string {
  const where = `Between stations ${lengthText(fromMm, prefs, 'room')} and ${lengthText(toMm, prefs, 'room')}`
  if (mostMm === null)
    return `${where} the benchwork is in two pieces, and the line begins on one and ends on the other. Draw what joins them.`
  return `${where} the benchwork is too narrow for a margin of ${lengthText(askedMm, prefs)} on both sides; ${lengthText(mostMm, prefs)} would do.`
}
