import type { JoinLimits } from '../../core/alignment/index.ts'
import type { Finding } from '../../core/checks/types.ts'
import type { Pose } from '../../core/geom/types.ts'
import { joinLimits, joinLines, type JoinLine, type JoinPlanProblem } from '../../core/pipeline/index.ts'
import type { Plan } from '../../core/plan/index.ts'
import type { LineClass } from '../../core/plan/types.ts'
import { joinFindingText, joinLineText, joinProblemText, joinStopText } from '../../words/joinText.ts'
import { angleDegrees, inBoth, lengthBoth, type Answer } from '../answer.ts'
import type { Args, VerbSpec } from '../args.ts'
import { BadInput } from '../badInput.ts'
import { joinFrom, joinTo } from '../joinEnds.ts'
import { planFromFile } from '../planFile.ts'
import { lineClassChosen } from '../records.ts'
import { frogOption, lengthOption } from '../values.ts'

export const joinSpec: VerbSpec = {
  name: 'join',
  about: 'the lines of largest minimum radius from one leg or free end to another, or to a place on a track',
  operand: 'PLAN',
  options: {
    from: {
      value: 'spur:end',
      about: 'a turnout (its diverging leg; T1:other for the second of a wye or three-way), or a track and its free end',
      isRequired: true,
    },
    to: { value: 'icehouse', about: 'the same, or a track alone, or track@1200mm: a turnout is placed on it, there', isRequired: true },
    class: { value: 'main', about: 'line class of the new line; that of --from when left out' },
    tangent: { value: '12in', about: 'least tangent between reverse curves; the longest car of the plan when left out' },
    shortest: { value: '6in', about: 'least length of a curve with its easements; by its class when left out' },
    frog: { value: '6', about: 'frog number of a turnout placed on a track; by its class when left out' },
    'car-between': { about: 'a reverse needs its tangent even where easements could meet back to back' },
  },
  example: 'waybench join plan.json --from icehouse --to quay:end',
}

export function joinRun(args: Args): Answer {
  const plan = planFromFile(args.operand ?? '')
  const { from, network } = joinFrom(plan, args.values.get('from') ?? '')
  const typedClass = args.values.get('class')
  const lineClass = typedClass === undefined ? from.lineClass : lineClassChosen(plan, typedClass)
  const limits = limitsOf(plan, lineClass, args)
  const frog = frogOption(args, 'frog')?.frog ?? null
  const answer = joinLines({ plan, network }, from, joinTo(plan, network, args.values.get('to') ?? ''), { limits, frog, lineClass })
  if (!answer.ok) throw new BadInput(`${optionOf(answer.problem)}: ${joinProblemText(answer.problem, plan, inBoth)}`)
  const { lines, stopped } = answer
  return {
    json: {
      lineClass: lineClass.id,
      limits,
      from: poseRow(from.pose),
      alternatives: lines.map((line) => alternativeRow(line, plan)),
      stopped,
    },
    text: [
      `${lineClass.name}: minimum radius ${lengthBoth(limits.minRadiusMm)}, tangent between reverse curves ${lengthBoth(limits.tangentBetweenMm)}`,
      '',
      ...(lines.length === 0 ? ['No line leads there.'] : [linesText(lines, plan)]),
      ...(stopped.length === 0 ? [] : ['', 'No line keeps all limits.', ...stopped.map((stop) => `- ${joinStopText(stop, inBoth)}`)]),
    ].join('\n'),
    exitCode: 0,
    files: [],
  }
}

function limitsOf(plan: Plan, lineClass: LineClass, args: Args): JoinLimits {
  return {
    ...joinLimits(plan, lineClass, {
      tangentMm: lengthOption(args, 'tangent', { least: 'zero or more' }),
      shortestMm: lengthOption(args, 'shortest', { least: 'zero or more' }),
    }),
    isBackToBackAllowed: !args.values.has('car-between'),
  }
}

function optionOf({ kind }: JoinPlanProblem): string {
  return kind === 'turnout' ? '--frog' : kind === 'noPlace' || kind === 'noPlaceThere' || kind === 'notOpen' ? '--to' : '--from, --to'
}

const poseRow = ({ x, y, headingRad }: Pose): object => ({ xMm: x, yMm: y, headingRad })

function alternativeRow({ line, place, findings }: JoinLine, plan: Plan): object {
  const { family, hands, turnsRad, minRadiusMm, lengthMm, straightsMm, isRadiusFree, meetsLimits, breaches, stationMm, corners } = line
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
    findings: (findings ?? []).map((finding) => findingRow(finding, plan)),
    to: poseRow(line.end),
    turnout: place && { track: place.track, facing: place.facing, hand: place.hand, frog: place.frog },
    stationMm,
    corners: corners.map(({ x, y, radiusMm, easementInMm, easementOutMm }) => ({ xMm: x, yMm: y, radiusMm, easementInMm, easementOutMm })),
  }
}

function findingRow(finding: Finding, plan: Plan): object {
  const { rule, severity, otherRecord, stationFromMm, stationToMm, x, y, measured, limit, unit } = finding
  const text = joinFindingText(finding, plan, inBoth)
  return { rule, severity, otherRecord, stationFromMm, stationToMm, xMm: x, yMm: y, measured, limit, unit, text }
}

function linesText(lines: readonly JoinLine[], plan: Plan): string {
  return lines
    .map(({ line, place, findings }) => {
      const { what, measures, limits } = joinLineText({ line, place, findings }, inBoth)
      const turns = line.turnsRad.length === 0 ? '' : ` · turns ${line.turnsRad.map(angleDegrees).join(', ')}`
      return [
        `${what}: ${measures}${turns} · ${limits}`,
        ...(findings ?? []).map((finding) => `    ${joinFindingText(finding, plan, inBoth)}`),
      ].join('\n')
    })
    .join('\n')
}
