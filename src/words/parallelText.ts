import type { ParallelProblem, ParallelRemark } from '../core/alignment/index.ts'
import type { AlignmentProblem } from '../core/alignment/types.ts'
import type { TrackBeside } from '../core/network/index.ts'
import type { Id, Plan } from '../core/plan/types.ts'
import { lengthText } from './measure.ts'
import type { MeasurePrefs } from './measure.ts'
import { recordName } from './names.ts'

export function parallelProblemText(problem: ParallelProblem, prefs: MeasurePrefs): string {
  const length = (mm: number): string => lengthText(Math.abs(mm), prefs)
  switch (problem.kind) {
    case 'notFinite':
      return `The ${problem.where} is no number that can be worked with.`
    case 'offsets':
      return 'Centres must be more than nothing.'
    case 'stretch':
      return `Nothing is left between these stations; the track is ${lengthText(problem.lengthMm, prefs, 'room')} long.`
    case 'radiusCollapses':
      return `Inside of PI ${problem.corner + 1} there is no room at these centres; they must be more than ${length(problem.radiusMm)} less.`
    case 'wideningTooGreat':
      return `Outside of PI ${problem.corner + 1} centres can be ${length(problem.mostMm)} at most, with its easements as they are.`
    case 'noArcLeft':
      return `At PI ${problem.corner + 1} arc ${problem.arc + 1} is ${length(problem.shortByMm)} too short for the easements beside it.`
    case 'line':
      return lineText(problem.problem, length)
  }
}

/** Why the new line does not come out, though the track beside it does. */
function lineText(problem: AlignmentProblem, length: (mm: number) => string): string {
  if (problem.kind !== 'sideTooShort') return 'The curves of the new line do not fit between its PIs.'
  const { haveMm, needMm, shortByMm } = problem
  return `Between two of its PIs the new line measures ${length(haveMm)}; its curves there want ${length(needMm)}: ${length(shortByMm)} short. Shorter easements or smaller radii of the track beside it make room, or other centres.`
}

/** What a press takes in place of centres that do not do. */
export function parallelWouldText(
  { centresMm, curveMm }: { readonly centresMm: number; readonly curveMm: number },
  prefs: MeasurePrefs,
): string {
  return `Use centres of ${lengthText(curveMm, prefs)}${centresMm === curveMm ? '' : ' on curves'}`
}

/** What is told of a line that would lie on a track of the plan. */
export function liesThereText(track: Id, plan: Plan): string {
  return `${recordName(plan, 'tracks', track)} lies there already.`
}

/** What is told of centres at which cars come nearer than the running clearance. */
export function parallelNarrowText(
  { centresMm, curveMm }: { readonly centresMm: number; readonly curveMm: number },
  prefs: MeasurePrefs,
): string {
  const where = centresMm === curveMm ? '' : ' on curves'
  return `So near, cars on the two tracks pass within less than the running clearance${where}; ${lengthText(curveMm, prefs)} would do. The checks will tell of it.`
}

export function parallelRemarkText(remark: ParallelRemark, prefs: MeasurePrefs): string {
  return remark.kind === 'belowMinimum'
    ? `At PI ${remark.corner + 1} R ${lengthText(remark.radiusMm, prefs)} here; the class asks ${lengthText(remark.limitMm, prefs)}.`
    : `At PI ${remark.corner + 1} no arc is left, easements only.`
}

/** How far a track lies from the one beside it: parallel, or from the least to the most. */
export function besideText({ leastMm, mostMm, alongMm }: TrackBeside, name: string, prefs: MeasurePrefs): string {
  const [least, most] = [lengthText(leastMm, prefs), lengthText(mostMm, prefs)]
  return `${name}: ${least === most ? `${least} all along` : `${least} to ${most}`}, for ${lengthText(alongMm, prefs, 'room')}`
}
