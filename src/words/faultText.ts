import type { CheckDimensionFault, CurvesInARow, Finding, OutlineProblem, RoomFault } from '../core/checks/types.ts'
import type { Plan } from '../core/plan/types.ts'
import { checkDimensionName, routeName } from './checkDimensionText.ts'
import { fixedName, gapText, moreText, overlapOther, sourceText } from './findingParts.ts'
import { jointRuleText } from './jointText.ts'
import { makerProblemText } from './makerText.ts'
import { angleText, fineText, fineTextsApart, lengthText, numberText } from './measure.ts'
import type { MeasurePrefs } from './measure.ts'
import { recordName, upperFirst } from './names.ts'
import { alignmentProblemText, crossingProblemText, placementProblemText, turnoutProblemText } from './problemText.ts'
import { radiusRoomText } from './radiusRoomText.ts'

/** What is wrong beyond a number that is over or under another: with what, by how much, and what would do. */
export function faultText(problem: NonNullable<Finding['problem']>, finding: Finding, plan: Plan, prefs: MeasurePrefs): string {
  switch (problem.kind) {
    case 'hostMissing':
    case 'hostUnsolved':
    case 'runsOff':
    case 'wyeOffEnd':
    case 'wyeEndTaken':
      return placementProblemText(problem, prefs)
    case 'geometry':
      return turnoutProblemText(problem.problem, prefs)
    case 'outlineTooFewPoints':
    case 'outlineNoArea':
    case 'outlineCrosses':
    case 'holeOutside':
      return outlineProblemText(problem)
    case 'turnoutsOverlap':
      return `${upperFirst(overlapOther(finding, plan))} reaches ${lengthText(problem.overlapMm, prefs)} into the same stretch of track.`
    case 'roadbedsMeet': {
      const into = finding.record === finding.otherRecord ? 'itself farther along' : `that of ${overlapOther(finding, plan)}`
      const sheet = problem.isOneSheet ? 'One sheet under both, or one' : 'One'
      return `Its roadbed reaches ${lengthText(-(finding.measured ?? 0), prefs)} into ${into}, where the ties stand. ${sheet} trimmed along the other would do, or ${moreText(finding, prefs)} more between the tracks.`
    }
    case 'nearFixed': {
      const name = finding.otherRecord === null ? fixedName[problem.table] : recordName(plan, problem.table, finding.otherRecord)
      return problem.table === 'portals'
        ? `${gapText(finding, name, prefs)} It has to be ${moreText(finding, prefs)} wider on that side.`
        : `${gapText(finding, name, prefs)} ${moreText(finding, prefs)} farther away would do.`
    }
    case 'overEdge':
      return `The track keeps its margin, but cars reach ${lengthText(-(finding.measured ?? 0), prefs)} past the edge of the benchwork.`
    case 'turnoutTiesMeet':
      return `${problem.ties === 1 ? 'A tie of it lies' : `${problem.ties} of its ties lie`} on ties of ${overlapOther(finding, plan)}. Cut the head blocks shorter, or move it along.`
    case 'turnoutOverCrossing':
      return `It reaches ${lengthText(problem.overlapMm, prefs)} into ${recordName(plan, 'crossings', problem.crossing)}.`
    case 'easementEndUnder':
      return `${bendChangeName[problem.what]} under it, at station ${lengthText(problem.stationMm, prefs, 'room')}: harder to lay true than on a straight, in a curve or within an easement.`
    case 'tiesOverEdge':
      return `${problem.ties === 1 ? 'A tie of it reaches' : `${problem.ties} of its ties reach`} up to ${lengthText(-(finding.measured ?? 0), prefs)} past the edge of the benchwork. Cut the head blocks shorter, or move it in.`
    case 'joistUnderThrow':
      return `${upperFirst(recordName(plan, 'joists', problem.joist))} crosses the room that a switch machine of usual size needs below its throw bar.`
    case 'crossingUnbuilt':
      return crossingProblemText(problem.problem, prefs)
    case 'elbowUnguarded':
      return `Crossing No. ${numberText(problem.number, 2)}: its elbow frogs hold no wheel over ${lengthText(finding.measured ?? 0, prefs)}, and the rest of them guides one over ${lengthText(finding.limit ?? 0, prefs)} only. Movable elbow frogs or a steeper crossing would do.`
    case 'crossingsOverlap':
      return `It and ${overlapOther(finding, plan)} want the same ${lengthText(problem.overlapMm, prefs)} of track.`
    case 'checkDimension':
      return checkDimensionText(problem, finding, plan, prefs)
    case 'carLengths': {
      const car = sourceText(finding.source, plan)
      const does = finding.rule === 'coupling-radius' ? 'to couple by itself' : 'to run well'
      return `${lengthText(finding.measured ?? 0, prefs)} here; ${car}, ${lengthText(problem.lengthMm, prefs)} over couplers, asks ${numberText(problem.lengths, 2)} times its length ${does}: ${lengthText(finding.limit ?? 0, prefs)}.`
    }
    case 'couplersSwing': {
      const [car, other] = [sourceText(finding.source, plan), recordName(plan, 'vehicles', problem.other)]
      return `Coupled to ${finding.source === `car:${problem.other}` ? 'its like' : other}, the coupler of ${car} has to swing ${angleText(finding.measured ?? 0)} and can ${angleText(finding.limit ?? 0)}: pointing straight ahead the faces lie ${lengthText(problem.lateralMm, prefs)} apart sideways. More straight or easement between, or a wider curve, would do.`
    }
    case 'curvesInARow':
      return curvesText(problem, finding, plan, prefs)
    case 'levelCrossing':
      return `It crosses ${overlapOther(finding, plan)} on the level at ${angleText(problem.angleRad)}, where no crossing can be built: it lies on a turnout's route, on a helix, or on one and the same track.`
    case 'lowOverpass': {
      const lies =
        finding.record === finding.otherRecord ? 'It runs over itself' : `It and ${overlapOther(finding, plan)} lie one over the other`
      return `${lies}, ${lengthText(finding.measured ?? 0, prefs)} from railhead to railhead; with the deck, trains ask ${lengthText(finding.limit ?? 0, prefs)}. More climb between them would do.`
    }
    case 'aislePinch':
    case 'floorCutOff':
    case 'doorMeets':
    case 'hatchOffBench':
    case 'hatchUnderTrack':
    case 'benchRunsInto':
      return roomFaultText(problem, finding, plan, prefs)
    case 'jointNear': {
      const near = problem.what.map(jointRuleText).join(' and ')
      const [measured, limit] = [finding.measured ?? 0, lengthText(finding.limit ?? 0, prefs)]
      return measured < 0
        ? `Your joint stands within ${near}; ${limit} clear of it is asked. Move it along, or give it back to the rules.`
        : `Your joint stands ${lengthText(measured, prefs)} from ${near}; ${limit} is asked. Move it along, or give it back to the rules.`
    }
    case 'jointsAcross':
      return `Your joints in both rails are ${lengthText(finding.measured ?? 0, prefs)} apart here; a stagger of ${lengthText(finding.limit ?? 0, prefs)} is asked. Move one along, or give it back to the rules.`
    case 'jointOff': {
      const from = recordName(plan, 'tracks', finding.record)
      const into = finding.otherRecord === null ? 'another track' : recordName(plan, 'tracks', finding.otherRecord)
      const off = finding.unit === 'mm' ? `A gap of ${lengthText(problem.gapMm, prefs)}` : `A kink of ${angleText(problem.kinkRad)}`
      return `${off} where ${from} goes on into ${into}.`
    }
    case 'makerStays':
      return `What it made stays as it was. ${makerProblemText(problem.problem, plan, prefs)}`
    default: {
      const track = plan.tracks[finding.record]
      const whole = alignmentProblemText(problem, track, plan, prefs)
      return finding.room === undefined || track === undefined ? whole : radiusRoomText(finding.room, whole, track, plan, prefs)
    }
  }
}

const bendChangeName = {
  easement: 'An easement begins or ends',
  curve: 'A bare curve begins or ends',
  join: 'The radius of a compound curve changes',
} as const

/** A check dimension with what its standard asks; one that cannot be measured lacks a rail. */
function checkDimensionText(
  { dimension, route, gaugeMm }: CheckDimensionFault,
  { measured, limit, source }: Finding,
  plan: Plan,
  prefs: MeasurePrefs,
): string {
  const name = `${upperFirst(checkDimensionName(dimension))} on the ${routeName(route)} route`
  if (measured === null) return `${name} cannot be measured: the rail that should be there is cut away or missing.`
  const asks = sourceText(source, plan)
  if (limit === null) return `${name} is ${fineText(measured, prefs)}.`
  const does =
    gaugeMm === null
      ? ''
      : ` With check rails on both sides the crossing keeps check gauge and span from a gauge of ${fineText(gaugeMm, prefs)} on: lay it that wide, or try your widest wheels.`
  const [here, asked] = fineTextsApart(measured, limit, prefs)
  return `${name} is ${here}; ${asks} asks ${measured > limit ? 'at most' : 'at least'} ${asked}.${does}`
}

/** Two curves too near to each other: what lies between, what the longest car asks, and what would do. */
function curvesText(problem: CurvesInARow, finding: Finding, plan: Plan, prefs: MeasurePrefs): string {
  const length = (mm: number): string => lengthText(mm, prefs)
  const [out, into] = problem.easementsMm
  const eases = [out, into].filter((mm) => mm > 0).map(length)
  const straight = problem.straightMm > 1e-6 ? `${length(problem.straightMm)} of straight` : 'No straight'
  const between =
    eases.length === 0
      ? straight
      : `${straight}, with ${eases.length === 1 ? 'an easement' : 'easements'} of ${eases.join(' and ')} that ${eases.length === 1 ? 'counts' : 'count'} half,`
  const asks = finding.limit === null ? 'more is asked' : `${sourceText(finding.source, plan)} asks ${length(finding.limit)}`
  const side = (hand: 1 | -1): string => (hand > 0 ? 'left' : 'right')
  if (finding.rule === 'broken-back')
    return `${between} between two curves to the ${side(problem.hands[0])}; ${asks}. One curve of several radii would do instead.`
  const where = problem.turnout === null ? '' : ` at ${recordName(plan, 'turnouts', problem.turnout)}`
  return `${between} between a curve to the ${side(problem.hands[0])} and one to the ${side(problem.hands[1])}${where}; ${asks}.`
}

/** What is the matter with the room, and what has to do with it. */
function roomFaultText(problem: RoomFault, { table, record, measured, limit, source }: Finding, plan: Plan, prefs: MeasurePrefs): string {
  const length = (mm: number | null): string => (mm === null ? 'an unknown length' : lengthText(mm, prefs))
  const asks = `${sourceText(source, plan)} asks ${length(limit)}`
  switch (problem.kind) {
    case 'aislePinch': {
      const near = recordName(plan, table, record)
      const across = problem.across === null ? null : recordName(plan, problem.across.table, problem.across.record)
      const where = across === null || across === near ? `beside ${near}` : `between ${near} and ${across}`
      return `One has to pass here, and there are ${length(measured)} ${where}; ${asks}. Ways beside it that are narrower still are not told.`
    }
    case 'floorCutOff':
      return `No floor leads here: one has to duck under. A way of ${length(limit)} or a lift-out would do.`
    case 'doorMeets':
      return `It opens ${angleText(measured ?? 0)} and meets ${recordName(plan, problem.by.table, problem.by.record)}; a door should open ${angleText(limit ?? Math.PI / 2)}.`
    case 'hatchOffBench':
      return 'It lies wholly off the benchwork, where there is floor anyway.'
    case 'hatchUnderTrack': {
      const track = upperFirst(recordName(plan, problem.by.table, problem.by.record))
      return measured === 0
        ? `${track} crosses it and would be lifted with it.`
        : `${track} lies ${length(measured)} beside it; its ties reach ${length(limit)} and would be lifted with it.`
    }
    case 'benchRunsInto':
      return `It reaches ${length(measured)} into ${recordName(plan, problem.by.table, problem.by.record)}.`
  }
}

/** What is wrong with a ring of benchwork; sides count from one, as the particulars number their points. */
function outlineProblemText(problem: OutlineProblem): string {
  const ring = problem.ring < 0 ? 'The outline' : `Hole ${problem.ring + 1}`
  switch (problem.kind) {
    case 'outlineTooFewPoints':
      return `${ring} has ${problem.have} points; at least ${problem.need} make a ring.`
    case 'outlineNoArea':
      return `${ring} encloses nothing: its points lie in one line.`
    case 'outlineCrosses':
      return `${ring} crosses itself where the sides from point ${problem.edgeA + 1} and point ${problem.edgeB + 1} meet. Move a point so that it runs once around.`
    case 'holeOutside':
      return `${ring} reaches past the outline. Move it in, or move the outline instead.`
  }
}
