import type { SwingProblem } from '../core/vehicles/index.ts'
import { lengthText } from './measure.ts'
import type { MeasurePrefs } from './measure.ts'

const measureWords: { readonly [W in Extract<SwingProblem, { kind: 'notPositive' | 'negative' }>['where']]: string } = {
  radiusMm: 'The radius',
  bodyLengthMm: 'The length of the body',
  bodyWidthMm: 'The width of the body',
  truckCentresMm: 'The distance of the truck centres',
  truckWheelbaseMm: 'The wheelbase of a truck',
  clearanceMm: 'The running clearance',
}

/** Why it cannot be said how far a car stands out on a curve. */
export function swingProblemText(problem: SwingProblem, prefs: MeasurePrefs): string {
  const length = (mm: number): string => lengthText(mm, prefs)
  switch (problem.kind) {
    case 'notFinite':
      return 'A measure of the car or the radius is too large to be worked with.'
    case 'notPositive':
      return `${measureWords[problem.where]} is ${length(problem.value)}; it must be more than nothing.`
    case 'negative':
      return `${measureWords[problem.where]} is ${length(problem.value)}; it cannot be less than nothing.`
    case 'pivotsBeyondBody':
      return `The truck centres lie ${length(problem.truckCentresMm)} apart, more than the body is long: ${length(problem.bodyLengthMm)}.`
    case 'radiusTooSmall':
      return `This car cannot stand on a radius of ${length(problem.radiusMm)}; it needs more than ${length(problem.leastMm)}.`
  }
}
