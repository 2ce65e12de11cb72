import type { Misclosure, ShelfProblem, TraverseProblem } from '../core/room/index.ts'
import { angleFormat } from '../core/units/index.ts'
import { lengthText } from './measure.ts'
import type { MeasurePrefs } from './measure.ts'

/** Why measured sides make no room, and what would. */
export function traverseProblemText(problem: TraverseProblem, prefs: MeasurePrefs): string {
  const length = (mm: number): string => lengthText(mm, prefs, 'room')
  switch (problem.kind) {
    case 'fewSides':
      return `A room has three sides or more; here ${problem.have === 1 ? 'is 1' : `are ${problem.have}`}.`
    case 'badLength':
      return `Side ${problem.side + 1} is ${length(problem.lengthMm)} long; it must be more than nothing, and at most a kilometre.`
    case 'badAngle':
      return `The corner at the end of side ${problem.side + 1} would be ${angleFormat(problem.angleRad)}; an inside angle lies between 0° and 360°. Look at the other angles.`
    case 'badDiagonal':
      return `The diagonal across the end of side ${problem.side + 1} is ${length(problem.lengthMm)}; with its two sides it must lie between ${length(problem.aboveMm)} and ${length(problem.belowMm)}.`
    case 'anglesMissing':
      return `The corners at the ends of sides ${problem.sides.map((side) => side + 1).join(' and ')} are not measured; one can be had from the others, not more. Type an angle, or the diagonal across the corner.`
    case 'tooFarOff':
      return `The last side ends ${length(problem.misclosure.distanceMm)} from the first corner, more than a tenth of the way round: a measure is wrong by far, or a corner turns the other way (an angle above 180°).`
  }
}

/** How well a room closes, in a line or two. */
export function misclosureText({ angleRad, distanceMm, perimeterMm }: Misclosure, prefs: MeasurePrefs): string {
  const share = distanceMm > 0.005 ? `, 1 in ${Math.round(perimeterMm / distanceMm).toLocaleString('en-US')} of the way round` : ''
  const gap = `Closing error ${distanceMm < 0.005 ? 'none' : lengthText(distanceMm, prefs)}${share}.`
  if (angleRad === null) return `${gap} One corner follows from the others, so the angles have no check of their own.`
  const off = Math.abs(angleRad) < 1e-6 ? 'as they should be' : `${angleFormat(Math.abs(angleRad))} too ${angleRad > 0 ? 'much' : 'little'}`
  return `${gap} The angles together are ${off}.`
}

/** Why a shelf, an L or a U cannot be like that, and what could. sideName: what its sides are called where it is made. */
export function shelfProblemText(
  problem: ShelfProblem,
  prefs: MeasurePrefs,
  sideName: (side: number) => string = (side) => `side ${side + 1} of this run`,
): string {
  const length = (mm: number): string => lengthText(mm, prefs, 'room')
  switch (problem.kind) {
    case 'badDepth':
      return `A shelf is deeper than nothing and at most 100 m; ${lengthText(problem.depthMm, prefs)} is not.`
    case 'noSides':
      return 'A shelf runs from one corner of the wall to another one: choose two that differ.'
    case 'tooDeep':
      return `Along ${sideName(problem.side)} no front edge is left: it is ${length(problem.lengthMm)} long, and the depths at its ends take ${length(problem.takenMm)} of that. Make it longer${problem.mostMm === null ? ', or the depths less' : `, or the depth less than ${length(problem.mostMm)}`}.`
    case 'cornerTooLarge':
      return `The inner corner takes more than the front edge along ${sideName(problem.side)} has: it may take less than ${length(problem.mostMm)} of it.`
    case 'badCorner':
      return `An inner corner is cut or rounded by more than nothing and at most 100 m; ${lengthText(problem.sizeMm, prefs)} is not.`
  }
}
