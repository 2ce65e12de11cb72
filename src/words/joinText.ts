import type { JoinAlternative, JoinProblem, JoinStop } from '../core/alignment/index.ts'
import type { Facing, Hand } from '../core/plan/types.ts'
import type { MeasurePrefs } from './measure.ts'
import { frogText, lengthText } from './measure.ts'

const familyWords: Readonly<Record<JoinAlternative['family'], string>> = {
  straight: 'Straight',
  oneCurve: 'One curve',
  sameWay: 'Two curves one way',
  reverse: 'Reverse curve',
  reverseBackToBack: 'Reverse, back to back',
}

/** A line that joins; place: the turnout it would come in at, when it ends on a track. */
interface JoinLine {
  readonly line: JoinAlternative
  readonly place: { readonly frog: number; readonly hand: Hand; readonly facing: Facing } | null
}

export function joinLineText(
  { line, place }: JoinLine,
  prefs: MeasurePrefs,
): { readonly what: string; readonly measures: string; readonly limits: string } {
  const hands = line.hands.join(', ')
  const turnout = place === null ? '' : `, to a ${frogText(place.frog)} ${place.hand} facing ${place.facing} station`
  const radius = line.minRadiusMm === null ? 'no curve' : `R ${lengthText(line.minRadiusMm, prefs)}`
  return {
    what: `${familyWords[line.family]}${hands === '' ? '' : ` ${hands}`}${turnout}`,
    measures: `${radius} · ${lengthText(line.lengthMm, prefs, 'room')}`,
    limits: line.meetsLimits
      ? 'keeps the class'
      : line.breaches
          .map(({ limit, askedMm, reachedMm }) => `${limit} ${lengthText(reachedMm, prefs)}, the class asks ${lengthText(askedMm, prefs)}`)
          .join('; '),
  }
}

export function joinStopText(stop: JoinStop, prefs: MeasurePrefs): string {
  const length = (mm: number): string => lengthText(mm, prefs)
  switch (stop.limit) {
    case 'radius':
      return stop.isBare
        ? `Even bare curves reach R ${length(stop.nearestMm)} only; the class asks ${length(stop.askedMm)}.`
        : `Minimum radius ${length(stop.askedMm)}: ${length(stop.nearestMm)} would work.`
    case 'easement':
      return `Easements ${length(stop.askedMm)}: ${length(stop.nearestMm)} would work.`
    case 'tangent':
      return `Tangent between the curves ${length(stop.askedMm)}: ${length(stop.nearestMm)} would work.`
    case 'curve':
      return `Shortest curve ${length(stop.askedMm)}: ${length(stop.nearestMm)} would work.`
    case 'place':
      return stop.reason === 'coincident'
        ? 'Both ends lie on one spot.'
        : 'The other end lies behind: only a line that runs back leads there.'
  }
}

/** Why lines were not even looked for. */
export function joinProblemText(problem: JoinProblem, prefs: MeasurePrefs): string {
  switch (problem.kind) {
    case 'notFinite':
      return `A value is no number that can be worked with: ${problem.where}.`
    case 'notPositive':
      return `The ${problem.where} is ${lengthText(problem.value, prefs)}; it must be more than nothing.`
    case 'negative':
      return `The ${problem.where} is ${lengthText(problem.value, prefs)}; it cannot be less than nothing.`
    case 'outsidePath':
      return `Stations ${lengthText(problem.fromMm, prefs)} to ${lengthText(problem.toMm, prefs)} are not on the track, which is ${lengthText(problem.lengthMm, prefs)} long.`
  }
}
