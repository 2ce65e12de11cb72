import type { AlignmentProblem } from '../core/alignment/types.ts'
import type { EditProblem } from '../core/edit/types.ts'
import type { PlacementProblem } from '../core/network/types.ts'
import type { Plan, Track } from '../core/plan/types.ts'
import type { CrossingProblem, CrossingValue } from '../core/turnout/crossing/types.ts'
import type { RequestValue, TurnoutProblem } from '../core/turnout/types.ts'
import { angleText, fineGrainMm, fineText, lengthText, numberText } from './measure.ts'
import type { MeasurePrefs } from './measure.ts'
import { cornerName, endName, recordName, sideName, tableWord, upperFirst } from './names.ts'

const isMade = (track: Track | undefined, { makers }: Plan): boolean =>
  track !== undefined && Object.values(makers).some(({ made }) => made.tracks.includes(track.id))

/** What hinders a line from being solved: measured, and what it would need. */
export function alignmentProblemText(problem: AlignmentProblem, track: Track | undefined, plan: Plan, prefs: MeasurePrefs): string {
  const length = (mm: number): string => lengthText(mm, prefs)
  switch (problem.kind) {
    case 'notFinite':
      return `A value is missing or not a number: ${problem.where}.`
    case 'radiusNotPositive':
      return `${cornerName(track, problem.corner)} has the radius ${length(problem.radiusMm)}; a radius is more than nothing.`
    case 'easementNegative':
      return `${cornerName(track, problem.corner)} has an easement of ${length(problem.lengthMm)}; it cannot be less than nothing.`
    case 'coincidentPoints':
      return `Both ends of ${sideName(track, problem.side)} lie on the same spot. Move one of them.`
    case 'reversal':
      return `The line turns back on itself at ${cornerName(track, problem.corner)}. A corner turns less than 180°.`
    case 'easementsTooLong':
      return `The easements at ${cornerName(track, problem.corner)} turn ${angleText(problem.excessRad)} more than the corner does: ${length(problem.shortByMm)} of arc is missing. At ${numberText(problem.fittingFactor * 100, 0)} % of their length they just meet.`
    case 'noCurvature':
      return `${cornerName(track, problem.corner)} is easements only, and both are zero: nothing is left to turn with.`
    case 'arcsMisfit':
      return problem.excessRad > 0
        ? `The arcs of fixed turn at ${cornerName(track, problem.corner)} turn ${angleText(problem.excessRad)} more than is left for them.`
        : `The arcs at ${cornerName(track, problem.corner)} all have a fixed turn, and ${angleText(-problem.excessRad)} of the corner is left over. Give one of them a share.`
    case 'arcWithoutTurn':
      return `Arc ${problem.arc + 1} of ${cornerName(track, problem.corner)} turns nothing; an angle or a share above zero belongs here.`
    case 'sideTooShort':
      return `${upperFirst(sideName(track, problem.side))} measures ${length(problem.haveMm)}; what curves there wants ${length(problem.needMm)}: ${length(problem.shortByMm)} short.`
    case 'behindLeg':
      return `The ${problem.end === 'start' ? 'first' : 'last'} corner lies behind the turnout leg it should lead ${problem.end === 'start' ? 'away from' : 'to'}.`
    case 'legUnsolved':
      return `The ${endName(problem.end)} hangs on ${recordName(plan, 'turnouts', problem.turnout)}, which is not in its place yet.`
    case 'legsNotInLine':
      return `The two legs do not lie in line: ${length(Math.abs(problem.offsetMm))} apart and ${angleText(problem.headingRad)} askew. ${isMade(track, plan) ? 'A maker laid this track: give the maker other numbers, or mend the tracks it stands on.' : 'Put a corner between them.'}`
    case 'tooFewCorners':
      return `A closed line needs ${problem.need} corners, this one has ${problem.have}.`
    case 'circular':
      return `These hang on each other in a circle: ${problem.through.map((id) => recordName(plan, plan.tracks[id] === undefined ? 'turnouts' : 'tracks', id)).join(', ')}. Set one of them free.`
    case 'closedFromLeg':
      return `A closed line has no end that could start at ${recordName(plan, 'turnouts', problem.turnout)}. Free its start, or give it an end.`
    case 'shiftImpossible':
      return `The class asks an easement with a shift of ${length(problem.shiftMm)} at ${cornerName(track, problem.corner)}; with this radius at most ${length(problem.maxShiftMm)} can be had.`
  }
}

const requestWords: { readonly [K in RequestValue]: string } = {
  gaugeMm: 'The gauge',
  ratio: 'The scale',
  frog: 'The frog number',
  frogDefinition: 'The frog definition',
  hand: 'The hand',
  points: 'The kind of points',
  pointLengthMm: 'The point length',
  pointThicknessMm: 'The point thickness',
  heelSpreadMm: 'The heel spread',
  entryAngleRad: 'The entry angle',
  toeLengthMm: 'The toe length',
  heelLengthMm: 'The heel length',
  flangewayMm: 'The flangeway',
  checkGaugeMm: 'The check gauge',
  railHeadMm: 'The rail head',
  railFootMm: 'The rail foot',
  tieLengthMm: 'The tie length',
  tieWidthMm: 'The tie width',
  tieSpacingMm: 'The tie spacing',
  foulingMm: 'The fouling separation',
  wideningMm: 'The widening of the gauge',
}

/** Why a turnout cannot be built from its numbers. */
export function turnoutProblemText(problem: TurnoutProblem, prefs: MeasurePrefs): string {
  const length = (mm: number): string => lengthText(mm, prefs)
  switch (problem.kind) {
    case 'frogOutOfRange':
      return `Frog No. ${numberText(problem.frog, 2)} is outside of ${numberText(problem.min, 2)} to ${numberText(problem.max, 2)}.`
    case 'badValue':
      return `${requestWords[problem.where]} is ${requestValueText(problem.where, problem.value, prefs)}; it should be ${boundsText(problem, prefs)}.`
    case 'noClosureSpread': {
      const down = (mm: number): string => length(roundedBy(mm, closureGrainMm, Math.floor))
      const cures = [
        problem.mostToeMm === null ? null : `a toe of ${down(problem.mostToeMm)} or less`,
        problem.mostSpreadMm === null ? null : `a heel spread of ${down(problem.mostSpreadMm)} or less`,
      ].filter((cure) => cure !== null)
      const done = cures.length === 0 ? 'Only both of them smaller, or a larger frog number, would do.' : `It takes ${cures.join(', or ')}.`
      return `Heel and toe leave no room between them for the closure rails: ${length(problem.shortByMm)} missing across the gauge. ${done}`
    }
    case 'switchAngleTooLarge':
      return `The points turn ${angleText(problem.switchAngleRad)}, the frog only ${angleText(problem.frogAngleRad)}. Points of at least ${length(problem.minPointLengthMm)} would do.`
    case 'pointsLongerThanLead':
      return `Points of ${length(problem.pointLengthMm)} do not fit; there is room for ${length(problem.roomMm)} before the toe.`
    case 'hostTooSharp': {
      const cures = [
        problem.leastRadiusMm === null ? null : `a radius of at least ${length(problem.leastRadiusMm)}`,
        problem.frogThatDoes === null ? null : `frog No. ${numberText(problem.frogThatDoes, 2)}`,
      ].filter((cure) => cure !== null)
      const would = cures.length === 0 ? '' : ` ${upperFirst(cures.join(' or '))} would do.`
      return `The track's radius of ${length(problem.hostRadiusMm)} is too sharp for frog No. ${numberText(problem.frog, 2)}.${would}`
    }
    case 'hostTooShort':
      return `The track ends ${problem.end === 'ahead' ? 'ahead of the points' : 'inside the turnout'}: ${length(problem.shortByMm)} are missing.`
    case 'hostNotStraight':
      return `The track has to be straight here, from ${length(-problem.fromMm)} ahead of the points.`
    case 'shareOutOfRange':
      return `The share of the frog angle is ${numberText(problem.share, 3)}; it lies between ${numberText(problem.min, 3)} and ${numberText(problem.max, 3)}.`
    case 'noRoomForSecond':
      return `The second switch, ${length(problem.secondAfterMm)} behind the first, has no room for its ${problem.what}; ${lapText(problem.leastMm, problem.mostMm, length)} would do.`
  }
}

function lapText(leastMm: number | null, mostMm: number | null, length: (mm: number) => string): string {
  if (leastMm !== null && mostMm !== null) return `between ${length(leastMm)} and ${length(mostMm)}`
  if (leastMm !== null) return `at least ${length(leastMm)}`
  return mostMm === null ? 'another frog number' : `at most ${length(mostMm)}`
}

function requestValueText(where: RequestValue | CrossingValue, value: number, prefs: MeasurePrefs): string {
  if (where.endsWith('Rad')) return angleText(value)
  return where.endsWith('Mm') ? fineText(value, prefs) : numberText(value, 3)
}

function boundsText(
  { where, least, most, because }: Extract<TurnoutProblem | CrossingProblem, { kind: 'badValue' }>,
  prefs: MeasurePrefs,
): string {
  // Rounded to the safe side, so that what is told will do.
  const grain = where.endsWith('Rad') ? Math.PI / 180 / 100 : where.endsWith('Mm') ? fineGrainMm(prefs) : 1e-3
  const from = least === null ? null : requestValueText(where, roundedBy(least, grain, Math.ceil), prefs)
  const to = most === null ? null : requestValueText(where, roundedBy(most, grain, Math.floor), prefs)
  const bounds = from === null ? `less than ${to ?? ''}` : to === null ? `at least ${from}` : `between ${from} and ${to}`
  return because === '' ? bounds : `${bounds}, ${because}`
}

/** A whole number of grains; what is one but for rounding stays. */
function roundedBy(value: number, grain: number, way: (grains: number) => number): number {
  const grains = value / grain
  return grain * (Math.abs(grains - Math.round(grains)) < 1e-6 ? Math.round(grains) : way(grains))
}

/** What would do is told to this, on the side that does. */
const closureGrainMm = 0.01

const crossingWords: Readonly<Record<CrossingValue, string>> = {
  ...requestWords,
  wheelDiameterMm: 'The smallest wheel',
  flangeDepthMm: 'The depth of its flange',
}

/** Why no crossing can be built where two tracks meet, and what would do. */
export function crossingProblemText(problem: CrossingProblem, prefs: MeasurePrefs): string {
  const length = (mm: number): string => lengthText(mm, prefs)
  switch (problem.kind) {
    case 'angleTooSmall':
      return `The tracks meet at ${angleText(problem.angleRad)}; a diamond needs at least ${angleText(problem.leastRad)}.`
    case 'trackTooShort':
      return `The ${problem.track} track ends inside the crossing, ${length(problem.shortByMm)} too early. Lengthen it; where it ends at a turnout, that one has to lie so much farther away, in a scissors crossover by wider track centres.`
    case 'meetAgain':
      return 'The tracks meet a second time inside the crossing; bend them less, or bring them apart.'
    case 'frogsTooNear':
      return problem.what === 'guard'
        ? `Beside a frog of a turnout built in one with it, ${length(problem.shortByMm)} of a guard rail have no room. Set the turnouts farther apart, in a scissors crossover the tracks.`
        : `The rails between two of its frogs are ${length(problem.shortByMm)} too short. Set the turnouts farther apart, in a scissors crossover the tracks.`
    case 'notApart':
      return `The tracks lie on top of each other: ${length(problem.overMm)} from where they cross they are still not a gauge apart. Take out one of the two, or move it aside.`
    case 'noSlip':
      return `The slip on the ${problem.side} has no room: ${slipText(problem.why, length(problem.shortByMm))}. A flatter crossing would do.`
    case 'slipFoulsElbow':
      return `The slip on the ${problem.side} passes ${fineText(problem.spreadMm, prefs)} from the elbow frog; it needs ${fineText(problem.needMm, prefs)}. A flatter crossing would do.`
    case 'badValue':
      return `${crossingWords[problem.where]} is ${requestValueText(problem.where, problem.value, prefs)}; it should be ${boundsText(problem, prefs)}.`
  }
}

function slipText(why: Extract<CrossingProblem, { kind: 'noSlip' }>['why'], shortBy: string): string {
  switch (why) {
    case 'heel':
      return `in the middle its rail has opened ${shortBy} too little`
    case 'elbow':
      return `its points would reach ${shortBy} into the elbow frog`
    case 'curve':
      return 'no single curve leads from one track to the other'
  }
}

/** Why a turnout has no place on its track. */
export function placementProblemText(problem: PlacementProblem, prefs: MeasurePrefs): string {
  const length = (mm: number): string => lengthText(mm, prefs)
  switch (problem.kind) {
    case 'hostMissing':
      return 'The track it sat on is gone.'
    case 'hostUnsolved':
      return 'The track it sits on cannot be solved yet; mend that first.'
    case 'runsOff':
      return `It runs ${length(problem.overMm)} past the ${problem.end} of its track.`
    case 'wyeOffEnd':
      return `A wye stands at the end of its track: its points belong at the ${problem.end}, ${length(problem.offMm)} from here.`
    case 'wyeEndTaken':
      return `A wye needs a free end of its track, and the ${problem.end} is none.`
    case 'geometry':
      return turnoutProblemText(problem.problem, prefs)
  }
}

/** Why an edit was not done. */
export function editProblemText(problem: EditProblem, plan: Plan): string {
  switch (problem.kind) {
    case 'notFound':
      return `The ${tableWord(problem.table)} is no longer there.`
    case 'idTaken':
      return `A ${tableWord(problem.table)} of that name tag is there already.`
    case 'badValue':
      return `${valueWord(problem.value)} cannot stand here; it should be ${problem.expected}.`
    case 'inUse':
      return `${upperFirst(recordName(plan, problem.table, problem.id))} is still used by ${problem.by}. Free it from there first.`
    case 'madeBy':
      return `${upperFirst(recordName(plan, 'makers', problem.maker))} made this. Change its numbers there, or take it apart to edit by hand.`
    case 'locked':
      return `${upperFirst(recordName(plan, problem.table, problem.id))} is locked. Unlock it first.`
  }
}

function valueWord(value: unknown): string {
  if (typeof value === 'number') return Number.isFinite(value) ? `The value ${numberText(value, 3)}` : 'That number'
  if (typeof value === 'string') return `“${value.slice(0, 40)}”`
  return 'That'
}
