import type { CheckDimensionFault, Cure, CurvesInARow, Finding, MakerLength, OutlineProblem, RoomFault } from '../core/checks/types.ts'
import type { Id, Plan } from '../core/plan/types.ts'
import { byHandText } from './byHandText.ts'
import { angleText, fineText, fineTextsApart, frogText, lengthText, numberText } from './measure.ts'
import { checkDimensionName, routeName } from './checkDimensionText.ts'
import { jointRuleText } from './jointText.ts'
import { makerProblemText } from './makerText.ts'
import type { MeasurePrefs } from './measure.ts'
import { cornerName, nameRead, recordName, upperFirst } from './names.ts'
import { radiusRoomText } from './radiusRoomText.ts'
import { alignmentProblemText, crossingProblemText, placementProblemText, turnoutProblemText } from './problemText.ts'

/** A finding as a person reads it: what, then measured against limit. */
export interface FindingWords {
  readonly title: string
  readonly body: string
  /** Words of the buttons that cure it, the gentlest first; none: the builder has to think. */
  readonly cures: readonly string[]
  /** Where nothing cures it: why, and what would by hand. */
  readonly byHand: string | null
}

export function findingText(finding: Finding, plan: Plan, prefs: MeasurePrefs): FindingWords {
  return {
    title: titleText(finding, plan),
    body: bodyText(finding, plan, prefs),
    cures: curesText(finding, plan, prefs),
    byHand: finding.cure === null ? byHandText(finding, plan) : null,
  }
}

/** The cures in words; where they are of several corners, each names its own. */
function curesText(finding: Finding, plan: Plan, prefs: MeasurePrefs): readonly string[] {
  const cures = finding.cure === null ? [] : [finding.cure, ...(finding.others ?? [])]
  const corners = new Set(cures.flatMap((cure) => ('corner' in cure ? [cure.corner] : [])))
  return cures.map((cure) => {
    const text = finding.rule === 'easement-short' ? easedText(cure, prefs) : cureText(cure, prefs)
    const track = 'corner' in cure ? plan.tracks[cure.track] : undefined
    const at = 'corner' in cure ? (track?.corners.findIndex(({ id }) => id === cure.corner) ?? -1) : -1
    return corners.size < 2 || at < 0 ? text : `${cornerName(track, at)}: ${text.charAt(0).toLowerCase()}${text.slice(1)}`
  })
}

/** A finding in one run: what is wrong, what is asked, what would cure it, or what a hand would do. */
export function findingSentence(finding: Finding, plan: Plan, prefs: MeasurePrefs): string {
  const { title, body, cures, byHand } = findingText(finding, plan, prefs)
  const does = cures.length === 0 ? byHand : `${cures.join(', or: ')}.`
  return `${title}: ${body}${does === null ? '' : ` ${does}`}`
}

function titleText(finding: Finding, plan: Plan): string {
  if (finding.waitsFor !== undefined) return `Waits for ${recordName(plan, finding.waitsFor.table, finding.waitsFor.record)}`
  switch (finding.problem?.kind) {
    case 'levelCrossing':
      return 'Tracks cross on the level'
    case 'lowOverpass':
      return 'Track too low over another'
    case 'turnoutsOverlap':
      return 'Turnouts overlap'
    case 'turnoutTiesMeet':
      return 'Ties of two turnouts meet'
    case 'turnoutOverCrossing':
      return 'Turnout and crossing overlap'
    case 'crossingsOverlap':
      return 'Crossings overlap'
    case 'easementEndUnder':
      return finding.problem.what === 'easement' ? 'Easement ends under a turnout' : 'Curve changes under a turnout'
    case 'tiesOverEdge':
      return 'Ties past the edge'
    case 'crossingUnbuilt':
      return 'Crossing cannot be built'
    case 'elbowUnguarded':
      return 'Elbow frogs unguarded'
    case 'nearFixed':
      return `Cars too close to ${fixedName[finding.problem.table]}`
    case 'overEdge':
      return 'Cars hang over the edge'
    case 'holeOutside':
      return 'Hole past the outline'
    case 'floorCutOff':
      return 'Floor cut off'
    case 'hatchUnderTrack':
      return 'Track over a hatch'
    case 'outlineCrosses':
      return 'Outline crosses itself'
    case 'jointsAcross':
      return 'Joints without stagger'
    case 'jointOff':
      return finding.unit === 'mm' ? 'Gap where tracks join' : 'Kink where tracks join'
    default:
      return ruleTitle(finding)
  }
}

function ruleTitle(finding: Finding): string {
  switch (finding.rule) {
    case 'minimum-radius':
      return 'Curve under class radius'
    case 'car-radius':
      return 'Curve sharp for the longest car'
    case 'coupling-radius':
      return 'Curve too sharp to couple on'
    case 'coupler-swing':
      return 'Couplers swing too far'
    case 'reverse-curve':
      return finding.severity === 'error' ? 'Reverse curve without tangent' : 'Reverse curve, little tangent'
    case 'broken-back':
      return 'Broken-back curve'
    case 'alignment':
      return 'Line cannot be solved'
    case 'easement-fit':
      return finding.problem?.kind === 'sideTooShort' ? 'Curve does not fit' : 'Easements do not fit'
    case 'easement-short':
      return finding.measured === 0 ? 'Curve without easement' : 'Easement too short'
    case 'short-curve':
      return 'Curve too short'
    case 'benchwork-edge':
      return finding.measured !== null && finding.measured < 0 ? 'Track off the benchwork' : 'Track near the edge'
    case 'roadbed-edge':
      return 'Roadbed past the edge'
    case 'roadbed-overlap':
      return 'Roadbeds overlap'
    case 'track-clearance':
      return 'Tracks too close'
    case 'fixed-clearance':
      return 'Cars too close to the room'
    case 'minimum-frog':
      return 'Frog under class number'
    case 'turnout-place':
      return 'Turnout out of place'
    case 'crossing-build':
      return 'Crossing asks for attention'
    case 'throw-room':
      return 'Joist below the throw'
    case 'check-dimensions':
      return 'Check dimension out of standard'
    case 'benchwork-outline':
      return 'Benchwork outline is not a plain ring'
    case 'helix-height':
      return 'Helix leaves too little height'
    case 'maker-follow':
      return 'Maker cannot follow its track'
    case 'rail-joint':
      return 'Joint in a bad place'
    case 'line-joint':
      return 'Tracks do not join smoothly'
    case 'reach':
      return 'Track out of reach'
    case 'aisle':
      return 'Aisle too narrow'
    case 'door-swing':
      return 'Door does not open'
    case 'hatch-size':
      return 'Hatch too small'
    case 'hatch-place':
      return 'Hatch beside the benchwork'
    case 'bench-overlap':
      return 'Benchwork runs into the room'
  }
}

function bodyText(finding: Finding, plan: Plan, prefs: MeasurePrefs): string {
  if (finding.problem !== null) return problemText(finding.problem, finding, plan, prefs)
  const measured = finding.measured === null ? null : valueText(finding.measured, finding.unit, prefs)
  const limit = finding.limit === null ? null : valueText(finding.limit, finding.unit, prefs)
  switch (finding.rule) {
    case 'minimum-radius':
    case 'easement-short':
    case 'short-curve':
      return `${measured ?? 'Unknown'} here, ${sourceText(finding.source, plan)} asks ${limit ?? 'more'}.`
    case 'minimum-frog':
      return `${frogOf(finding.measured)} here, ${sourceText(finding.source, plan)} asks ${frogOf(finding.limit)}.`
    case 'benchwork-edge':
      if (finding.measured !== null && finding.measured < 0)
        return `The centreline lies ${lengthText(-finding.measured, prefs)} past the edge; ${limit ?? 'some'} inside is asked.`
      return `${measured ?? 'Unknown'} to the edge here, the margin is ${limit ?? 'more'}.`
    case 'roadbed-edge':
      return `The foot of the roadbed reaches ${limit ?? 'farther'} from the centreline, and the edge is ${measured ?? 'nearer'} away. A wider margin, or an upright shoulder, would keep it on the wood.`
    case 'track-clearance': {
      const other = finding.otherRecord === null ? 'the next track' : lineName(plan, finding.otherRecord)
      if (finding.source !== 'railway')
        return `${measured ?? 'Unknown'} to ${other} here, ${sourceText(finding.source, plan)} asks ${limit ?? 'more'}.`
      return `${gapText(finding, `those on ${other}`, prefs)} ${moreText(finding, prefs)} more between the tracks would do.`
    }
    case 'helix-height':
      return `${measured ?? 'Unknown'} clear between its turns; ${sourceText(finding.source, plan)} asks ${limit ?? 'more'} for this scale.`
    case 'reach':
      if (measured === null) return 'There is no floor to stand on within these walls, and no hatch to stand up in.'
      return `${measured} from the nearest floor or hatch; a hand reaches ${limit ?? 'less'}.`
    case 'hatch-size':
      return `Its widest place is ${measured ?? 'unknown'}; ${sourceText(finding.source, plan)} asks ${limit ?? 'more'} to stand up in.`
    case 'roadbed-overlap':
    case 'fixed-clearance':
    case 'aisle':
    case 'door-swing':
    case 'hatch-place':
    case 'bench-overlap':
    case 'maker-follow':
    case 'rail-joint':
    case 'line-joint':
    case 'car-radius':
    case 'coupling-radius':
    case 'coupler-swing':
    case 'reverse-curve':
    case 'broken-back':
    case 'benchwork-outline':
    case 'alignment':
    case 'easement-fit':
    case 'turnout-place':
    case 'check-dimensions':
    case 'crossing-build':
    case 'throw-room':
      return measured === null || limit === null ? 'The particulars say more.' : `${measured} here, ${limit} asked.`
  }
}

/** What cars run on: a track, or the leg of a turnout that no track goes on from yet. */
const lineName = (plan: Plan, id: Id): string =>
  id in plan.turnouts ? `the open leg of ${recordName(plan, 'turnouts', id)}` : recordName(plan, 'tracks', id)

const fixedName = { walls: 'a wall', obstacles: 'an obstacle', portals: 'a portal' } as const

/** How near cars come to something, or how deep they would reach into it. */
function gapText({ measured, limit }: Finding, what: string, prefs: MeasurePrefs): string {
  if (measured !== null && measured < 0) return `Cars reach ${lengthText(-measured, prefs)} into ${what}.`
  return `Cars come within ${lengthText(measured ?? 0, prefs)} of ${what}; ${lengthText(limit ?? 0, prefs)} running clearance is asked.`
}

/** By how much something has to move for the gap to be what is asked. */
const moreText = ({ measured, limit }: Finding, prefs: MeasurePrefs): string => lengthText((limit ?? 0) - (measured ?? 0), prefs)

function problemText(problem: NonNullable<Finding['problem']>, finding: Finding, plan: Plan, prefs: MeasurePrefs): string {
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

function overlapOther(finding: Finding, plan: Plan): string {
  const { otherRecord, table } = finding
  if (otherRecord === null) return 'another one'
  // The diverging route of a turnout may be what a track meets.
  const holder = ([table, 'tracks', 'turnouts'] as const).find((name) => otherRecord in plan[name])
  return recordName(plan, holder ?? table, otherRecord)
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

const frogOf = (frog: number | null): string => (frog === null ? 'another' : frogText(frog))

function valueText(value: number, unit: Finding['unit'], prefs: MeasurePrefs): string {
  switch (unit) {
    case 'mm':
      return lengthText(value, prefs)
    case 'rad':
      return angleText(value)
    case 'number':
      return numberText(value, 2)
  }
}

/** Who asks: a line class by its name, a published standard by its key. */
export function sourceText(source: string, plan: Plan): string {
  if (source.startsWith('class:')) {
    const record = plan.lineClasses[source.slice('class:'.length)]
    return record === undefined ? 'its class' : nameRead(record.name)
  }
  if (source.startsWith('car:')) return nameRead(plan.vehicles[source.slice('car:'.length)]?.name ?? 'its longest car')
  if (source === 'railway' || source.startsWith('railway')) return 'this railway'
  return source
}

const numberWords: { readonly [N in MakerLength]: string } = {
  stationMm: 'Move it to station',
  fromMm: 'Let it begin at station',
  toMm: 'Let it end at station',
  centresMm: 'Make its centres',
  leadCentresMm: 'Make the centres of its first track',
  curveCentresMm: 'Make its centres on curves',
  radius: 'Make its radius',
  acrossMm: 'Make it as wide as',
  climbMm: 'Make its climb',
  riseMm: 'Make its rise in a turn',
  clearMm: 'Make its clear height',
}

/** Easements that are made longer; all else as any cure. */
function easedText(cure: Cure, prefs: MeasurePrefs): string {
  if (cure.kind !== 'scaleEasements') return cureText(cure, prefs)
  const [into, out] = [lengthText(cure.easementInMm, prefs), lengthText(cure.easementOutMm, prefs)]
  return `Make easements ${into === out ? into : `${into} and ${out}`}`
}

export function cureText(cure: Cure, prefs: MeasurePrefs): string {
  switch (cure.kind) {
    case 'setRadius':
      return `Make it ${lengthText(cure.radiusMm, prefs)}`
    case 'scaleEasements':
      return cure.easementInMm === cure.easementOutMm
        ? `Shorten easements to ${lengthText(cure.easementInMm, prefs)}`
        : `Shorten easements to ${lengthText(cure.easementInMm, prefs)} and ${lengthText(cure.easementOutMm, prefs)}`
    case 'easementsMeet':
      return 'Let its easements meet'
    case 'setFrog':
      return `Make it ${frogText(cure.frog)}`
    case 'moveTurnout':
      return `Move it to station ${lengthText(cure.stationMm, prefs, 'room')}`
    case 'hangDoor':
      return `Hang it ${[
        ...(cure.leaf.hinge === cure.was.hinge ? [] : ['on the other jamb']),
        ...(cure.leaf.side === cure.was.side ? [] : ['to open to the other side']),
      ].join(', ')}`
    case 'growHatch':
      return `Make it ${numberText(cure.times, 2)} times as large`
    case 'setNumbers':
      return `${numberWords[cure.name]} ${lengthText(cure.lengthMm, prefs)}`
  }
}

/** Where a finding lies, for the line beneath it: track and corner. */
export function findingPlace(finding: Finding, plan: Plan): string {
  const name = recordName(plan, finding.table, finding.record)
  if (finding.corner === null) return name
  const track = plan.tracks[finding.record]
  const index = track === undefined ? -1 : track.corners.findIndex((corner) => corner.id === finding.corner)
  return index < 0 ? name : `${name}, ${cornerName(track, index)}`
}
