import { findingsOf, settleFindings } from '../../core/checks/index.ts'
import type { SilencedFinding } from '../../core/checks/index.ts'
import type { Finding } from '../../core/checks/types.ts'
import { pipelineCreate } from '../../core/pipeline/index.ts'
import type { Plan, Silence } from '../../core/plan/index.ts'
import { findingPlace, findingSentence } from '../../words/findingText.ts'
import { columns, inBoth, type Answer } from '../answer.ts'
import type { Args, VerbSpec } from '../args.ts'
import { planFromFile } from '../planFile.ts'

export const checkSpec: VerbSpec = {
  name: 'check',
  about: 'every place where a plan breaks one of its limits',
  operand: 'PLAN',
  options: {},
  example: 'waybench check plan.json',
}

/** Straight from the core and not through the engine, which would load what draws PDF. */
export function checkRun(args: Args): Answer {
  const plan = planFromFile(args.operand ?? '')
  const { open: findings, silenced, idle } = settleFindings(plan, findingsOf(pipelineCreate().derive(plan)))
  const errors = findings.filter(({ severity }) => severity === 'error').length
  const counts = { total: findings.length, error: errors, warning: findings.length - errors, silenced: silenced.length }
  return {
    json: {
      findings: findings.map((finding) => findingJson(finding, plan)),
      silenced: silenced.map(({ finding, silence }) => ({ ...findingJson(finding, plan), silence: silence.id, reason: silence.reason })),
      idleSilences: idle,
      counts,
    },
    text: [checkText(findings, plan, counts), ...silencedText(silenced, plan), ...idleText(idle)].join('\n'),
    exitCode: errors > 0 ? 1 : 0,
    files: [],
  }
}

/** The track that a finding lies on, whichever record it is about. */
function trackOf(finding: Finding, plan: Plan): string | null {
  if (finding.table === 'tracks') return finding.record
  return finding.table === 'turnouts' ? (plan.turnouts[finding.record]?.track ?? null) : null
}

function findingJson(finding: Finding, plan: Plan): object {
  const {
    id,
    rule,
    severity,
    stage,
    table,
    record,
    otherRecord,
    corner,
    stationFromMm,
    stationToMm,
    x,
    y,
    measured,
    limit,
    unit,
    source,
    cure,
  } = finding
  return {
    rule,
    severity,
    track: trackOf(finding, plan),
    stationFromMm,
    stationToMm,
    xMm: x,
    yMm: y,
    measured,
    limit,
    unit,
    source,
    id,
    stage,
    table,
    record,
    otherRecord,
    corner,
    problem: finding.problem,
    text: findingSentence(finding, plan, inBoth),
    cure,
  }
}

function checkText(findings: readonly Finding[], plan: Plan, counts: { readonly error: number; readonly warning: number }): string {
  if (findings.length === 0) return 'No findings: the plan keeps all its limits.'
  const rows = findings.map((finding) => [finding.severity, finding.rule, placeText(finding, plan), findingSentence(finding, plan, inBoth)])
  return [
    columns([['', 'rule', 'where', 'what'], ...rows]),
    '',
    `${counted(counts.error, 'error')}, ${counted(counts.warning, 'warning')}.`,
  ].join('\n')
}

function silencedText(silenced: readonly SilencedFinding[], plan: Plan): readonly string[] {
  if (silenced.length === 0) return []
  const rows = silenced.map(({ finding, silence }) => [finding.rule, placeText(finding, plan), `silenced: ${silence.reason}`])
  return ['', columns([['rule', 'where', 'why it is not told'], ...rows])]
}

function idleText(idle: readonly Silence[]): readonly string[] {
  if (idle.length === 0) return []
  return ['', `Silenced and not wrong any more: ${idle.map(({ rule, record, reason }) => `${rule} of ${record} (${reason})`).join('; ')}.`]
}

const counted = (count: number, word: string): string => `${count} ${word}${count === 1 ? '' : 's'}`

function placeText(finding: Finding, plan: Plan): string {
  const { stationFromMm: from, stationToMm: to } = finding
  const stretch =
    from === null
      ? ''
      : to === null || to === from
        ? `, station ${from.toFixed(0)} mm`
        : `, stations ${from.toFixed(0)} to ${to.toFixed(0)} mm`
  return findingPlace(finding, plan) + stretch
}
