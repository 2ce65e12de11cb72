import type { JoinAlternative, JoinStop } from '../core/alignment/index.ts'
import type { Finding } from '../core/checks/types.ts'
import type { NoPlaceThere } from '../core/network/index.ts'
import type { ClassShort, JoinLine, JoinPlanProblem } from '../core/pipeline/index.ts'
import type { Plan } from '../core/plan/types.ts'
import { findingText } from './findingText.ts'
import type { MeasurePrefs } from './measure.ts'
import { angleText, frogText, lengthText } from './measure.ts'
import { recordName } from './names.ts'
import { placementProblemText, turnoutProblemText } from './problemText.ts'

const familyWords: Readonly<Record<JoinAlternative['family'], string>> = {
  straight: 'Straight',
  oneCurve: 'One curve',
  sameWay: 'Two curves one way',
  reverse: 'Reverse curve',
  reverseBackToBack: 'Reverse, back to back',
}

/** A line that joins, as one choice among others. isByClass: nothing else is asked of it than what its class asks. */
export function joinLineText(
  { line, place, findings, short = [] }: Pick<JoinLine, 'line' | 'place'> & Partial<Pick<JoinLine, 'findings' | 'short'>>,
  prefs: MeasurePrefs,
  isByClass = true,
): { readonly what: string; readonly measures: string; readonly limits: string } {
  const hands = line.hands.join(', ')
  const isReverse = (findings ?? []).some(({ rule }) => rule === 'reverse-curve')
  const at = line.stationMm === null ? '' : ` at station ${lengthText(line.stationMm, prefs, 'room')}`
  const turnout = place === null ? '' : `, to a ${frogText(place.frog)} ${place.hand}${at}, facing ${place.facing} station`
  const radius = line.minRadiusMm === null ? 'no curve' : `R ${lengthText(line.minRadiusMm, prefs)}`
  return {
    what: `${familyWords[line.family]}${hands === '' ? '' : ` ${hands}`}${turnout}`,
    measures: [radius, easementsText(line, prefs), lengthText(line.lengthMm, prefs, 'room')].filter((text) => text !== null).join(' · '),
    limits: line.meetsLimits
      ? `keeps ${isByClass && short.length === 0 ? 'the class' : 'what is asked here'}${shortText(short, prefs)}${isReverse ? ', but for the straight between reverse curves' : ''}`
      : line.breaches
          .map(
            ({ limit, askedMm, reachedMm }) =>
              `${limit} ${lengthText(reachedMm, prefs)}, ${isByClass ? 'the class asks' : 'asked is'} ${lengthText(askedMm, prefs)}`,
          )
          .join('; '),
  }
}

/** The easements of a line, the shortest and the longest; null: it has no curve. */
function easementsText({ corners }: JoinAlternative, prefs: MeasurePrefs): string | null {
  if (corners.length === 0) return null
  // Of a wide turn the arc runs on between two corners: there it has none.
  const lengths = corners.map(({ easementInMm, easementOutMm }) => Math.max(easementInMm, easementOutMm))
  const [least, most] = [lengthText(Math.min(...lengths), prefs), lengthText(Math.max(...lengths), prefs)]
  if (Math.max(...lengths) === 0) return 'no easements'
  return least === most ? `easements ${least}` : `easements ${least} to ${most}`
}

/** What a line keeps only because less was asked here than its class asks. */
function shortText(short: readonly ClassShort[], prefs: MeasurePrefs): string {
  if (short.length === 0) return ''
  const each = short.map(({ what, reachedMm, askedMm }) => {
    const here =
      what === 'radius' ? `R ${lengthText(reachedMm, prefs)}` : reachedMm === 0 ? 'no easement' : `easement ${lengthText(reachedMm, prefs)}`
    return `${here}, the class asks ${lengthText(askedMm, prefs)}`
  })
  return `, less than the class asks: ${each.join('; ')}`
}

/** Whether a line lies off the benchwork somewhere, which no other answer need do. */
export const isOffBenchwork = ({ findings }: Pick<JoinLine, 'findings'>): boolean =>
  (findings ?? []).some(({ rule, measured }) => rule === 'benchwork-edge' && measured !== null && measured < 0)

/** What stands against a line in the room that it would run through. */
export function joinFindingText(finding: Finding, plan: Plan, prefs: MeasurePrefs): string {
  const { problem, table, otherRecord } = finding
  if (problem?.kind === 'levelCrossing') {
    const other = otherRecord === null ? 'a track' : recordName(plan, table, otherRecord)
    return `It crosses ${other} on the level at ${angleText(problem.angleRad)}: a crossing would be needed there.`
  }
  const { title, body } = findingText(finding, plan, prefs)
  return `${title}: ${body}`
}

/** A limit that no line keeps, and what would work. */
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

/** What a press does that gives way there; null: nothing gives way. */
export function joinGiveWayText(stop: JoinStop): string | null {
  switch (stop.limit) {
    case 'radius':
      return stop.isBare ? 'Use bare curves of this radius' : 'Use this radius'
    case 'easement':
      return 'Use these easements'
    case 'tangent':
      return 'Use this tangent'
    case 'curve':
      return 'Use this length of curve'
    case 'place':
      return null
  }
}

/** Why lines were not even looked for. */
export function joinProblemText(problem: JoinPlanProblem, plan: Plan, prefs: MeasurePrefs): string {
  const length = (mm: number): string => lengthText(mm, prefs)
  switch (problem.kind) {
    case 'notFinite':
      return `A value is no number that can be worked with: ${problem.where}.`
    case 'notPositive':
      return `The ${problem.where} is ${length(problem.value)}; it must be more than nothing.`
    case 'negative':
      return `The ${problem.where} is ${length(problem.value)}; it cannot be less than nothing.`
    case 'outsidePath':
      return `Stations ${length(problem.fromMm)} to ${length(problem.toMm)} are not on the track, which is ${length(problem.lengthMm)} long.`
    case 'notOpen':
      return 'This end is not open: something runs on from it, or its track cannot be solved. Choose another.'
    case 'turnout':
      return `${frogText(problem.frog)} cannot be built on it: ${turnoutProblemText(problem.problem, prefs)}`
    case 'noPlace':
      return `No free straight of ${recordName(plan, 'tracks', problem.track)} is long enough for a turnout. A smaller frog number may do.`
    case 'noPlaceThere':
      return noPlaceText(problem.noPlace, plan, prefs)
  }
}

function noPlaceText({ track, stationMm, frog, why, nearestMm }: NoPlaceThere, plan: Plan, prefs: MeasurePrefs): string {
  const station = (mm: number): string => lengthText(mm, prefs, 'room')
  const reason =
    why.kind !== 'taken'
      ? placementProblemText(why, prefs)
      : why.turnout === null
        ? 'A crossing takes the track there.'
        : `${recordName(plan, 'turnouts', why.turnout)} takes the track there.`
  const cure =
    nearestMm === null
      ? 'No straight of it has room for one either.'
      : `The nearest straight with room has it at station ${station(nearestMm)}.`
  return `${frogText(frog)} cannot have its points at station ${station(stationMm)} of ${recordName(plan, 'tracks', track)}. ${reason} ${cure}`
}
