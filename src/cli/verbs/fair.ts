import type { CorridorNear, CorridorParting, FairBind, FairMeasure, FairProblem } from '../../core/alignment/index.ts'
import { editApply, patchApply } from '../../core/edit/index.ts'
import { pipelineCreate } from '../../core/pipeline/index.ts'
import type { FairPlanProblem } from '../../core/pipeline/index.ts'
import type { Plan, Track } from '../../core/plan/types.ts'
import { trackFairRounds, type TrackFairAnswer } from '../../engine/fair.ts'
import { planWrite } from '../../formats/planjson.ts'
import { bindText, chainText, easeProblemText, partingText } from '../../words/easeText.ts'
import { columns, inBoth, lengthBoth, type Answer } from '../answer.ts'
import type { Args, VerbSpec } from '../args.ts'
import { BadInput } from '../badInput.ts'
import { outPath } from '../outFile.ts'
import { planFromFile } from '../planFile.ts'
import { trackChosen } from '../records.ts'
import { lengthOption, numberOption } from '../values.ts'

export const fairSpec: VerbSpec = {
  name: 'fair',
  about: 'ease a track: the largest minimum radius that benchwork, walls, obstacles and other tracks allow',
  operand: 'PLAN',
  options: {
    track: { value: 'main', about: 'name or id of the track', isRequired: true },
    margin: { value: '2in', about: "centreline to edges, walls and obstacles; the railway's edge margin when left out" },
    centres: { value: '2in', about: 'centreline to other tracks; the track centres of the line classes when left out' },
    strict: { about: 'refuse a line that is nearer to something than asked; else it may stay as near as it is' },
    rounds: { value: '400', about: 'rounds of improvement at most; 400 when left out' },
    out: { value: 'eased.json', about: 'the plan with the eased track; nothing is written when left out' },
  },
  example: 'waybench fair plan.json --track main --out eased.json',
}

const ROUNDS = 400
const MOST_ROUNDS = 100_000

export async function fairRun(args: Args): Promise<Answer> {
  const edgeMarginMm = lengthOption(args, 'margin', { least: 'zero or more' })
  const centresMm = lengthOption(args, 'centres')
  const roundsMost = roundsOption(args)
  const out = args.values.has('out') ? outPath(args) : null
  const plan = planFromFile(args.operand ?? '')
  const track = trackChosen(plan, args.values.get('track') ?? '')
  // Loaded when it is needed: it is larger than all the rest of the command.
  const { linearSolverRead } = await import('../../engine/lp.node.ts')
  const nearness = args.values.has('strict') ? 'refuse' : 'asGiven'
  const options = { edgeMarginMm, centresMm, nearness, roundsMost } as const
  const rounds = trackFairRounds(pipelineCreate().derive(plan), track.id, options, await linearSolverRead())
  let next = rounds.next()
  while (next.done !== true) next = rounds.next('goOn')
  const answer = next.value
  if (!answer.ok) throw new BadInput(`${nameOf(track)}: ${easeProblemText(answer.problem, plan, inBoth)}${hint(answer.problem)}`)
  const eased = planEased(plan, answer)
  return {
    json: answerJson(answer, eased, out),
    text: answerText(answer, track, plan, out),
    exitCode: 0,
    files: out === null ? [] : [{ path: out, bytes: new TextEncoder().encode(planWrite(eased)) }],
  }
}

type Eased = TrackFairAnswer & { readonly ok: true }

function roundsOption(args: Args): number {
  const rounds = numberOption(args, 'rounds') ?? ROUNDS
  if (Number.isInteger(rounds) && rounds >= 1 && rounds <= MOST_ROUNDS) return rounds
  throw new BadInput(`--rounds ${args.values.get('rounds')}: it must be a whole number from 1 to ${MOST_ROUNDS}.`)
}

function planEased(plan: Plan, answer: Eased): Plan {
  const edit = editApply(plan, answer.command)
  if (!edit.ok) throw new Error(`the eased line cannot be written into the plan: ${JSON.stringify(edit.problem)}`)
  return patchApply(plan, edit.patch)
}

const nameOf = ({ id, name }: Track): string => (name === '' ? id : name)

function answerJson(answer: Eased, eased: Plan, file: string | null): object {
  const { bound, after, near, binds } = answer
  return {
    track: answer.track,
    before: measureJson(answer.before),
    after: measureJson(after),
    bound: bound && { kind: bound.kind, radiusMm: bound.radiusMm, reached: after.minRadiusMm / bound.radiusMm },
    binds: binds.map((bind) => ({
      stationFromMm: bind.fromMm,
      stationToMm: bind.toMm,
      by: bind.kind === 'chain' ? bind.label : bind.kind,
    })),
    parting: partingJson(answer.parting),
    near: near.map(({ label, askedMm, hasMm, stationMm }) => ({ by: label, askedMm, hasMm, stationMm })),
    corners: (eased.tracks[answer.track]?.corners ?? []).map(({ id, x, y, radius, easementIn, easementOut }) => ({
      id,
      xMm: x,
      yMm: y,
      radiusMm: radius,
      easementInMm: easementIn,
      easementOutMm: easementOut,
    })),
    rounds: answer.rounds,
    ended: answer.ended,
    file,
  }
}

function partingJson(parting: CorridorParting | null): object | null {
  if (parting === null) return null
  const { at, fromMm, toMm, askedMm, mostMm } = parting
  return { stationFromMm: fromMm, stationToMm: toMm, xMm: at.x, yMm: at.y, askedMm, mostMm }
}

function measureJson({ minRadiusMm, curvatureVariation, lengthMm, corners }: FairMeasure): object {
  return { minRadiusMm, curvatureVariationPerMm: curvatureVariation, lengthMm, corners }
}

function answerText(answer: Eased, track: Track, plan: Plan, file: string | null): string {
  const { before, after, bound } = answer
  const reached =
    bound === null ? [] : [`No line here can exceed ${lengthBoth(bound.radiusMm)}: ${share(after.minRadiusMm / bound.radiusMm)} of it.`]
  const ended = {
    settled: `Nothing helps any more after ${answer.rounds} rounds.`,
    budget: `The ${answer.rounds} rounds are used up; more may find more (--rounds).`,
    stopped: `Stopped after ${answer.rounds} rounds.`,
  }[answer.ended]
  return [
    columns([
      [nameOf(track), 'before', 'after'],
      ['minimum radius', lengthBoth(before.minRadiusMm), lengthBoth(after.minRadiusMm)],
      ['length', lengthBoth(before.lengthMm), lengthBoth(after.lengthMm)],
      ['curvature variation', variation(before), variation(after)],
      ['corners', String(before.corners), String(after.corners)],
    ]),
    ...reached,
    ended,
    ...bindLines(answer.binds, plan),
    ...nearLines(answer.near, plan),
    ...(answer.parting === null ? [] : [partingText(answer.parting, inBoth)]),
    file === null ? 'Nothing is written; give --out for the eased plan.' : `The eased plan is in ${file}.`,
  ].join('\n')
}

const share = (part: number): string => `${(part * 100).toFixed(1)} %`

const variation = ({ curvatureVariation }: FairMeasure): string => `${(curvatureVariation * 1000).toFixed(3)} /m`

function bindLines(binds: readonly FairBind[], plan: Plan): readonly string[] {
  if (binds.length === 0) return ['Nothing holds the line.']
  const rows = binds.map((bind) => [`  station ${bind.fromMm.toFixed(0)} to ${bind.toMm.toFixed(0)} mm`, bindText(bind, plan)])
  return ['Held by:', columns(rows)]
}

function nearLines(near: readonly CorridorNear[], plan: Plan): readonly string[] {
  if (near.length === 0) return []
  const rows = near.map(({ label, askedMm, hasMm, stationMm }) => [
    `  station ${stationMm.toFixed(0)} mm`,
    chainText(label, plan),
    hasMm === 0 ? 'goes through' : `${hasMm.toFixed(1)} mm of ${askedMm.toFixed(1)} mm`,
  ])
  return ['As given nearer than asked, and no nearer now:', columns(rows)]
}

/** What the options could change about it. */
function hint({ kind }: FairPlanProblem | FairProblem): string {
  if (kind === 'outside') return ' Or leave out --strict.'
  return kind === 'corridorEmpty' || kind === 'corridorParted' ? ' Give it by --margin.' : ''
}
