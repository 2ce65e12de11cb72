import { expect } from 'vitest'
import { checksCreateRunner, findingsOf } from '../../src/core/checks/index.ts'
import type { Finding, RuleName } from '../../src/core/checks/index.ts'
import { networkCreateDeriver } from '../../src/core/network/index.ts'
import type { Plan } from '../../src/core/plan/index.ts'

/** What most bare curves break, whose places are easily worked out and which most cases are made of; and what most lines break that are too near for cars. */
const goingAlong: readonly RuleName[] = ['easement-short', 'car-radius', 'coupling-radius', 'coupler-swing', 'roadbed-overlap']

/** Findings of a plan, derived and checked from scratch, but for those of some rules. A rule that says something is held to say it as well when it is asked alone. */
export function planFindings(plan: Plan, leftOut: readonly RuleName[] = goingAlong): readonly Finding[] {
  const input = { plan, network: networkCreateDeriver()(plan) }
  const all = findingsOf(input)
  for (const told of new Set(all.map(({ rule }) => rule))) {
    const alone = checksCreateRunner(new Set([told]))(input)
    const among = all.filter(({ rule }) => rule === told)
    expect(alone, `${told}, asked alone`).toEqual(among)
  }
  return all.filter(({ rule }) => !leftOut.includes(rule))
}

/** Findings of some rules alone. */
export function findingsAsked(plan: Plan, asked: readonly RuleName[]): readonly Finding[] {
  return checksCreateRunner(new Set(asked))({ plan, network: networkCreateDeriver()(plan) })
}

/** The one finding that a plan must have; fails the test when there is none, another rule's or more. */
export function onlyFinding(plan: Plan, rule: RuleName): Finding {
  const findings = planFindings(
    plan,
    goingAlong.filter((one) => one !== rule),
  )
  const [finding] = findings
  if (findings.length !== 1 || finding === undefined || finding.rule !== rule) {
    throw new Error(
      `expected one finding of ${rule}, there are: ${JSON.stringify(findings.map(({ id, measured, limit }) => [id, measured, limit]))}`,
    )
  }
  return finding
}
