import type { Plan } from '../core/plan/types.ts'
import type { RoadbedCutProblem, RoadbedPlace, RoadbedProblem, RunOwner } from '../core/roadbed/types.ts'
import type { CutProblem } from '../core/sticks/types.ts'
import { fineText, gradeText, lengthText, numberText } from './measure.ts'
import type { MeasurePrefs } from './measure.ts'
import { recordName, upperFirst } from './names.ts'

const percent = (strain: number): string => `${numberText(100 * strain, 2)} %`

const roadbedWords = {
  thickness: 'thickness',
  topWidth: 'width at the top',
  shoulder: 'run of the shoulder for each unit of height',
  strips: 'count of strips',
} as const

/** What hinders roadbed from being cut and laid: where, how much, and what would do. */
export function roadbedProblemText(problem: RoadbedProblem, plan: Plan, prefs: MeasurePrefs): string {
  const length = (mm: number): string => lengthText(mm, prefs)
  const fine = (mm: number): string => fineText(mm, prefs)
  const at = (place: RoadbedPlace): string => placeText(place, plan, prefs)
  switch (problem.kind) {
    case 'badRoadbed': {
      const isLength = problem.what === 'thickness' || problem.what === 'topWidth'
      const told = (value: number): string => (isLength ? fine(value) : numberText(value, 2))
      return `The roadbed of class ${recordName(plan, 'lineClasses', problem.lineClass)} has the ${roadbedWords[problem.what]} ${told(problem.value)}; nothing can be cut to that. ${told(problem.wouldDo)} would do.`
    }
    case 'noMaterial':
      return `The roadbed of class ${recordName(plan, 'lineClasses', problem.lineClass)} is of a material "${problem.material}" that the plan does not have. ${problem.known.length === 0 ? 'Add it to the materials.' : `There are: ${problem.known.map((id) => recordName(plan, 'materials', id)).join(', ')}.`}`
    case 'badStrain':
      return `The strain limit of ${recordName(plan, 'materials', problem.material)} is ${numberText(problem.value, 4)}; it is more than 0 and at most 1. ${numberText(problem.wouldDo, 4)} is that of wood.`
    case 'stripsTear':
      return `${problem.strips === 1 ? 'One strip' : `${problem.strips} strips`} of ${length(problem.widthMm)} ${at(problem.at)} would be bent to ${length(problem.radiusMm)}: ${problem.strain === null ? 'the band reaches the centre of the curve' : `a strain of ${percent(problem.strain)}, where ${percent(problem.limit)} is the limit`}. ${problem.stripsThatDo === null ? 'No count of strips would do; ease the curve.' : `${problem.stripsThatDo} strips would do.`}`
    case 'cannotBend':
      return `No strip bends to ${length(problem.radiusMm)} ${at(problem.at)}; the narrowest that can be cut is ${length(problem.narrowestMm)}. It would go round ${length(problem.radiusThatDoesMm)}${problem.strainThatDoes === null ? '' : `, or be of a material that bears a strain of ${percent(problem.strainThatDoes)}`}. Cut the curve from a sheet instead.`
    case 'noStock':
      return `There is no stock of ${recordName(plan, 'materials', problem.material)} ${fine(problem.thicknessMm)} thick for strips ${length(problem.widthMm)} wide. ${problem.widestMm !== null ? `The widest is ${length(problem.widestMm)}: wider stock or more strips side by side would do.` : problem.otherThicknessMm.length > 0 ? `It is there in ${problem.otherThicknessMm.map(fine).join(', ')}: stock or class have to change.` : `Add a sheet or a strip of it, ${length(problem.widthMm)} wide or more.`}`
    case 'noJointPlace':
      return `Strip ${problem.strip + 1} from the left ${at(problem.at)} cannot be joined by the rules from lengths of ${length(problem.longestMm)}.${problem.lengthThatDoesMm === null ? '' : ` Stock ${length(problem.lengthThatDoesMm)} long would do.`}${problem.staggerThatDoesMm === null ? '' : ` A stagger of ${length(problem.staggerThatDoesMm)} would do.`} It is told with joints that break the rule.`
    case 'bandsOverlap':
      return `The roadbed of ${recordName(plan, 'tracks', problem.track)} never gets clear of that of ${recordName(plan, 'tracks', problem.host)}: ${length(problem.overlapMm)} of it lie in the other. Trim one along the other, or make the roadbed narrower or its shoulders steeper.`
    case 'pieceTooLong':
      return `Piece ${problem.piece} is ${length(problem.lengthMm)} long; the longest stock is ${length(problem.longestMm)}. Stock as long as the piece would do.`
    case 'rampTooLong':
      return `The ramp of the roadbed of ${recordName(plan, 'tracks', problem.track)} from station ${length(problem.stationMm)} takes ${length(problem.neededMm)}; there are ${length(problem.roomMm)}. ${problem.rampThatDoes === null ? 'Keep this track on the height of the one that it leaves until it is clear of its turnouts.' : `A ramp of ${gradeText(problem.rampThatDoes)} would fit.`}`
    case 'rampTooLow':
      return `${upperFirst(recordName(plan, 'tracks', problem.track))} at station ${length(problem.stationMm)} would need roadbed ${fine(problem.missingMm)} thinner than nothing to meet the lower rails there. Make the roadbed of its class lower, or that of the other track as much higher.`
  }
}

/** The same for what comes up when it is cut from sheets. lengths: words for what hinders lengths from being put on lengths. */
export function roadbedCutProblemText(
  problem: RoadbedCutProblem,
  plan: Plan,
  prefs: MeasurePrefs,
  lengths: (problem: CutProblem) => string,
): string {
  switch (problem.kind) {
    case 'badKerf':
      return `The cut takes ${fineText(problem.value, prefs)}; it cannot take less than nothing. ${fineText(problem.wouldDo, prefs)} is usual for a knife and a thin saw.`
    case 'notEnough':
      return `${problem.needed} of ${recordName(plan, 'stocks', problem.stock)} are needed; there are ${problem.onHand}, and none can be bought.`
    case 'lengths':
      return `Strips of ${recordName(plan, 'materials', problem.material)} ${lengthText(problem.widthMm, prefs)} wide and ${fineText(problem.thicknessMm, prefs)} thick: ${lengths(problem.problem)}`
    default:
      return roadbedProblemText(problem, plan, prefs)
  }
}

function placeText({ owner, fromMm, toMm }: RoadbedPlace, plan: Plan, prefs: MeasurePrefs): string {
  return `on ${ownerText(owner, plan)} from ${lengthText(fromMm, prefs)} to ${lengthText(toMm, prefs)}`
}

function ownerText(owner: RunOwner, plan: Plan): string {
  return owner.kind === 'track' ? recordName(plan, 'tracks', owner.track) : recordName(plan, 'turnouts', owner.turnout)
}
