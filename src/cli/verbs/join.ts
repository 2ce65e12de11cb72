import { joinSolve } from '../../core/alignment/index.ts'
import type { JoinAlternative, JoinBreach, JoinLimits, JoinProblem, JoinStop, JoinTarget } from '../../core/alignment/index.ts'
import type { Plan } from '../../core/plan/index.ts'
import type { LineClass } from '../../core/plan/types.ts'
import { angleDegrees, columns, lengthBoth, type Answer } from '../answer.ts'
import type { Args, VerbSpec } from '../args.ts'
import { BadInput } from '../badInput.ts'
import { joinFrom, joinTargets, type Joined, type PlacedTurnout } from '../joinEnds.ts'
import { planFromFile } from '../planFile.ts'
import { lineClassChosen } from '../records.ts'
import { frogOption, lengthOption } from '../values.ts'

export const joinSpec: VerbSpec = {
  name: 'join',
  about: 'the lines of largest minimum radius from one leg or free end to another, or to a place on a track',
  operand: 'PLAN',
  options: {
    from: { value: 'spur:end', about: 'a turnout (its diverging leg), or a track and its free end', isRequired: true },
    to: { value: 'icehouse', about: 'the same, or a track alone: a turnout is placed on it', isRequired: true },
    class: { value: 'main', about: 'line class of the new line; that of --from when left out' },
    tangent: { value: '12in', about: 'least tangent between reverse curves; the longest car of the plan when left out' },
    shortest: { value: '6in', about: 'least length of a curve; any when left out' },
    frog: { value: '6', about: 'frog number of a turnout placed on a track; by its class when left out' },
    'car-between': { about: 'a reverse needs its tangent even where easements could meet back to back' },
  },
  example: 'waybench join plan.json --from icehouse --to quay:end',
}

interface Found extends JoinAlternative {
  readonly turnout: PlacedTurnout | null
}

export function joinRun(args: Args): Answer {
  const plan = planFromFile(args.operand ?? '')
  const from = joinFrom(plan, args.values.get('from') ?? '')
  const typedClass = args.values.get('class')
  const lineClass = typedClass === undefined ? from.lineClass : lineClassChosen(plan, typedClass)
  const limits = limitsOf(plan, lineClass, args)
  const targets = joinTargets(plan, args.values.get('to') ?? '', from, frogOption(args, 'frog')?.frog ?? null)
  const answers = targets.map(({ target, turnout }) => ({ turnout, ...solved(from, target, limits) }))
  const all = answers
    .flatMap(({ turnout, alternatives: lines }) => lines.map((line): Found => ({ ...line, turnout })))
    .sort((a, b) => (b.minRadiusMm ?? Infinity) - (a.minRadiusMm ?? Infinity) || a.lengthMm - b.lengthMm)
  const good = all.filter(({ meetsLimits }) => meetsLimits)
  // A track offers dozens of places; where some keep the limits, the others are of no use.
  const alternatives = good.length > 0 && targets.length > 1 ? good : all
  const stopped = good.length > 0 ? [] : stopsLeast(answers.flatMap((answer) => answer.stopped))
  return {
    json: {
      lineClass: lineClass.id,
      limits,
      from: poseRow(from.pose),
      alternatives: alternatives.map(alternativeRow),
      stopped,
    },
    text: [
      `${lineClass.name}: minimum radius ${lengthBoth(limits.minRadiusMm)}, tangent between reverse curves ${lengthBoth(limits.tangentBetweenMm)}`,
      '',
      ...(alternatives.length === 0 ? ['No line leads there.'] : [alternativesText(alternatives)]),
      ...(stopped.length === 0 ? [] : ['', 'No line keeps all limits:', ...stopped.map((stop) => `- ${stopWords(stop)}`)]),
    ].join('\n'),
    exitCode: 0,
    files: [],
  }
}

function limitsOf(plan: Plan, lineClass: LineClass, args: Args): JoinLimits {
  const longestCarMm = Object.values(plan.vehicles).reduce((most, { bodyLengthMm }) => Math.max(most, bodyLengthMm), 0)
  return {
    minRadiusMm: lineClass.minRadiusMm,
    easement: lineClass.easement,
    shortestCurveMm: lengthOption(args, 'shortest', { least: 'zero or more' }) ?? 0,
    tangentBetweenMm: lengthOption(args, 'tangent', { least: 'zero or more' }) ?? longestCarMm,
    isBackToBackAllowed: !args.values.has('car-between'),
  }
}

function solved(
  from: Joined,
  target: JoinTarget,
  limits: JoinLimits,
): { readonly alternatives: readonly JoinAlternative[]; readonly stopped: readonly JoinStop[] } {
  const answer = joinSolve({ start: from.pose, target, limits })
  if (!answer.ok) throw new BadInput(problemWords(answer.problem))
  return answer
}

/** Of several places on a track each limit is told once, with the value that gives way least. */
function stopsLeast(stops: readonly JoinStop[]): readonly JoinStop[] {
  const ratio = (stop: JoinStop): number => (stop.limit === 'place' ? 0 : stop.nearestMm / stop.askedMm)
  const sorted = stops.toSorted((a, b) => ratio(b) - ratio(a))
  return sorted.filter((stop, i) => sorted.findIndex(({ limit }) => limit === stop.limit) === i)
}

const poseRow = ({ x, y, headingRad }: Joined['pose']): object => ({ xMm: x, yMm: y, headingRad })

function alternativeRow(line: Found): object {
  const { family, hands, turnsRad, minRadiusMm, lengthMm, straightsMm, isRadiusFree, meetsLimits, breaches, turnout, stationMm, corners } =
    line
  return {
    family,
    hands,
    turnsRad,
    minRadiusMm,
    lengthMm,
    straightsMm,
    isRadiusFree,
    meetsLimits,
    breaches,
    to: poseRow(line.end),
    turnout,
    stationMm,
    corners: corners.map(({ x, y, radiusMm, easementInMm, easementOutMm }) => ({ xMm: x, yMm: y, radiusMm, easementInMm, easementOutMm })),
  }
}

function alternativesText(alternatives: readonly Found[]): string {
  return columns([
    ['Line', 'minimum radius', 'length', 'turns', 'limits'],
    ...alternatives.map((line) => [
      [familyWords[line.family], ...line.hands, turnoutWords(line.turnout, line.stationMm)].filter((word) => word !== '').join(' '),
      line.minRadiusMm === null ? 'none' : lengthBoth(line.minRadiusMm),
      lengthBoth(line.lengthMm),
      line.turnsRad.map(angleDegrees).join(', '),
      line.meetsLimits ? 'kept' : line.breaches.map(breachWords).join('; '),
    ]),
  ])
}

const familyWords: Readonly<Record<JoinAlternative['family'], string>> = {
  straight: 'straight',
  oneCurve: 'one curve',
  sameWay: 'two curves one way',
  reverse: 'reverse',
  reverseBackToBack: 'reverse, back to back,',
}

function turnoutWords(turnout: PlacedTurnout | null, stationMm: number | null): string {
  if (turnout === null || stationMm === null) return ''
  return `to a No. ${turnout.frog} ${turnout.hand} facing ${turnout.facing} at ${stationMm.toFixed(1)} mm`
}

function breachWords(breach: JoinBreach): string {
  return `${breach.limit} ${breach.reachedMm.toFixed(1)} mm, ${breach.askedMm.toFixed(1)} asked`
}

function stopWords(stop: JoinStop): string {
  switch (stop.limit) {
    case 'radius':
      return stop.isBare
        ? `even bare curves without a tangent between reach ${lengthBoth(stop.nearestMm)} only`
        : `radius: ${lengthBoth(stop.nearestMm)} would work`
    case 'easement':
      return `easements: ${lengthBoth(stop.nearestMm)}, ${stop.factor.toFixed(2)} of the rule, would work`
    case 'tangent':
      return `tangent between the curves: ${lengthBoth(stop.nearestMm)} would work, ${lengthBoth(stop.askedMm - stop.nearestMm)} less`
    case 'curve':
      return `length of a curve: ${lengthBoth(stop.nearestMm)} would work`
    case 'place':
      return stop.reason === 'coincident'
        ? 'both ends are on one spot'
        : `the end lies ${lengthBoth(stop.aheadMm)} ahead and ${lengthBoth(stop.leftMm)} to the left: only a line that runs back leads there`
  }
}

function problemWords(problem: JoinProblem): string {
  switch (problem.kind) {
    case 'notFinite':
      return `${problem.where}: this is no number to work with.`
    case 'notPositive':
      return `${problem.where} is ${problem.value}; it must be above zero.`
    case 'negative':
      return `${problem.where} is ${problem.value}; it must be zero or more.`
    case 'outsidePath':
      return `stations ${problem.fromMm} to ${problem.toMm} mm are not on a track of ${problem.lengthMm} mm.`
  }
}
