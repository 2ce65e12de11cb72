import type { FrogTold } from '../core/checks/index.ts'
import type { MakerProblem } from '../core/makers/index.ts'
import type { Plan } from '../core/plan/types.ts'
import { angleText, frogText, lengthText, numberText } from './measure.ts'
import type { MeasurePrefs } from './measure.ts'
import { recordName, upperFirst } from './names.ts'
import { alignmentProblemText, placementProblemText, turnoutProblemText } from './problemText.ts'

const centresWords = {
  measured: 'These tracks stand',
  centresMm: 'Tracks would stand',
  leadCentresMm: 'The first body track would stand',
} as const

const stationWords = { stationMm: 'Here', fromMm: 'At its first points', toMm: 'At its last points' } as const

/** Why a maker cannot make it, and what would do. */
export function makerProblemText(problem: MakerProblem, plan: Plan, prefs: MeasurePrefs): string {
  const length = (mm: number): string => lengthText(mm, prefs)
  const room = (mm: number): string => lengthText(mm, prefs, 'room')
  switch (problem.kind) {
    case 'hostMissing':
      return 'The track it should stand on is gone. Choose another.'
    case 'hostUnsolved':
      return `${upperFirst(recordName(plan, 'tracks', problem.track))} cannot be solved yet; mend that first.`
    case 'classMissing':
      return 'Its line class is gone. Choose another.'
    case 'sameTrack':
      return 'It lies between two tracks; choose another one for the second.'
    case 'badNumber':
      return `The value ${numberText(problem.value, 2)} cannot stand here; it should be ${problem.expected}.`
    case 'turnout':
      return `${frogText(problem.frog)}: ${turnoutProblemText(problem.problem, prefs)}`
    case 'station':
      return stationText(problem, recordName(plan, 'tracks', problem.track), room)
    case 'notParallel':
      return `The two tracks run together at ${angleText(problem.angleRad)} here. ${problem.mostRad > 0 ? `A crossover with these frogs wants less than ${angleText(problem.mostRad)}.` : 'Crossovers of both hands want them parallel; a single one would do with a small angle.'}`
    case 'crossoverTooSharp':
      return `From frog to frog it turns ${angleText(problem.angleRad)}, on a radius of ${length(problem.radiusMm)}; the class asks ${length(problem.leastRadiusMm)}, which allows ${angleText(problem.mostAngleRad)}. A larger frog number makes it longer.`
    case 'centresTooSmall':
      return `${centresWords[problem.where]} ${length(problem.centresMm)} apart; ${length(problem.leastMm)} is the least that leaves room.`
    case 'ladderTooTight':
      return `The pitch of the ladder is ${length(problem.pitchMm)}, a turnout takes ${length(problem.leastPitchMm)}: the next points would stand on the last frog's long ties. Centres of ${length(problem.leastCentresMm)} would do, or a smaller frog number.`
    case 'beside':
      return besideText(problem.problem, prefs)
    case 'tooShort':
      return tooShortText(problem, prefs)
    case 'baseTooShort':
      return `Its base wants ${room(problem.needMm)} of straight, the longest there is ${room(problem.haveMm)}. ${problem.mostRadiusMm === null ? 'No radius fits into that.' : `A radius of ${length(problem.mostRadiusMm)} would do.`}`
    case 'endNotFree':
      return `The ${problem.end} of ${recordName(plan, 'tracks', problem.track)} is no free end.`
    case 'endsApart':
      return `The two ends look ${angleText(problem.angleRad)} apart. A turnback wants them side by side, looking the same way.`
    case 'noLoop':
      return `No loop closes with a radius of ${length(problem.radiusMm)}. A larger one, or less straight between the curves, would do.`
    case 'acrossTooSmall':
      return `${room(problem.acrossMm)} across leaves no room for a curve between the margins; the least radius of the class takes ${room(problem.leastMm)}.`
    case 'riseTooLow':
      return `A turn rises ${length(problem.riseMm)}, less than its own deck and rail take. ${length(problem.leastMm)} would leave the usual height clear.`
    case 'climbTooLow':
      return `A climb of ${length(problem.climbMm)} is done before the curve is. ${length(problem.leastMm)} is the least that would do.`
    case 'tooManyTurns':
      return `That makes ${numberText(problem.turns, 1)} turns; ${problem.mostTurns} are the most. A climb of ${room(problem.mostClimbMm)} would do.`
    case 'easementsTooLong':
      return `With a radius of ${length(problem.radiusMm)} the easements of the class leave no arc: ${length(problem.shortByMm)} is missing. Another class or a larger radius would do.`
    case 'line':
      return `${partName(problem.part)} does not come out: ${alignmentProblemText(problem.problem, undefined, plan, prefs)}`
    case 'place':
      return `${partName(problem.part)} has no place: ${placementProblemText(problem.problem, prefs)}`
  }
}

function stationText(
  { where, stationMm, nearestMm, needMm, haveMm }: Extract<MakerProblem, { readonly kind: 'station' }>,
  track: string,
  room: (mm: number) => string,
): string {
  if (needMm === 0) return `${upperFirst(track)} is ${room(haveMm)} long; station ${room(stationMm)} lies off it.`
  if (nearestMm.length === 0) return `It wants ${room(needMm)} of straight on ${track}; the longest there is ${room(haveMm)}.`
  return `${stationWords[where]} ${track} is not straight for the ${room(needMm)} that it takes. At station ${nearestMm.map(room).join(' or ')} of it there is such a straight.`
}

function partName(part: string): string {
  return part === '' ? 'A part of it' : `Its part “${part}”`
}

function besideText(problem: Extract<MakerProblem, { readonly kind: 'beside' }>['problem'], prefs: MeasurePrefs): string {
  const length = (mm: number): string => lengthText(Math.abs(mm), prefs)
  switch (problem.kind) {
    case 'notFinite':
    case 'offsets':
      return 'No line runs beside the track at these centres.'
    case 'stretch':
      return 'Between these two stations nothing is left to run beside.'
    case 'radiusCollapses':
      return `Inside of a curve these centres leave no radius: ${length(problem.radiusMm)} past its centre.`
    case 'wideningTooGreat':
      return `Outside of a curve centres widen by no more than its easement shifts it: ${length(problem.mostMm)} is the most.`
    case 'noArcLeft':
      return `Beside a curve of several radii arc ${problem.arc + 1} is used up: ${length(problem.shortByMm)} is missing.`
    case 'line':
      return 'Beside a curve there is no room for its own curve at these centres.'
  }
}

function tooShortText({ what, haveMm, needMm }: Extract<MakerProblem, { readonly kind: 'tooShort' }>, prefs: MeasurePrefs): string {
  const [have, need] = [lengthText(haveMm, prefs, 'room'), lengthText(needMm, prefs, 'room')]
  switch (what) {
    case 'siding':
      return haveMm > 0
        ? `Its points stand ${have} apart; its two ends alone take ${need}.`
        : `Its last points must lie behind its first, by the ${need} at least that its two ends take.`
    case 'turnback':
      return `The tracks lie ${have} apart; with the least radius of the class half a turn takes ${need}.`
  }
}

/** What the checks will tell of a maker's frogs, before it is built, and the least number of which they tell nothing. */
export function frogToldText({ frog, finding, plan, least }: FrogTold, prefs: MeasurePrefs): string {
  const would = least === null ? 'No larger number up to No. 20 does without.' : `${frogText(least.frog)} does not.`
  const { problem, measured, limit, source } = finding
  if (problem?.kind === 'couplersSwing' && source.startsWith('car:')) {
    const [car, other] = [source.slice('car:'.length), problem.other].map((id) => recordName(plan, 'vehicles', id))
    const to = car === other ? 'its like' : other
    return `${frogText(frog)} would swing the coupler of ${car}, coupled to ${to}, by ${angleText(measured ?? 0)}; ${angleText(limit ?? 0)} is the most. ${would}`
  }
  if (problem?.kind === 'curvesInARow')
    return `${frogText(frog)} would turn from hand to hand with ${lengthText(measured ?? 0, prefs)} of straight between; the longest car asks ${lengthText(limit ?? 0, prefs)}. ${would}`
  return `${frogText(frog)} would be told of by a check: ${lengthText(measured ?? 0, prefs)} where ${lengthText(limit ?? 0, prefs)} are asked. ${would}`
}
