import type { TraceProblem } from '../core/alignment/index.ts'
import { lengthText } from './measure.ts'
import type { MeasurePrefs } from './measure.ts'

/** Why no line is found in measured points; points count from one. */
export function traceProblemText(problem: TraceProblem, prefs: MeasurePrefs): string {
  switch (problem.kind) {
    case 'notFinite':
      return `Point ${problem.index + 1} is not a number that can be worked with.`
    case 'toleranceNotPositive':
      return `The tolerance is ${lengthText(problem.toleranceMm, prefs)}; it must be more than nothing.`
    case 'tooFewPoints':
      return `There ${problem.have === 1 ? 'is one point' : `are ${problem.have} different points`}; at least ${problem.need} are needed.`
    case 'tooManyPoints':
      return `There are ${problem.have} points; at most ${problem.most} are taken. Leave out every second one.`
    case 'unordered':
      return `The points do not follow each other along a line: from point ${problem.index + 1} on they turn back. Sort them by station.`
    case 'notClosed':
      return `A closed line needs three corners, and these points show ${problem.corners}. Take it as an open line, or measure more.`
  }
}
