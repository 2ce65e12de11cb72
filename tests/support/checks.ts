import { findingsOf } from '../../src/core/checks/index.ts'
import type { Finding, RuleName } from '../../src/core/checks/index.ts'
import { pipelineCreate } from '../../src/core/pipeline/index.ts'
import type { Plan } from '../../src/core/plan/index.ts'

/** All findings of a plan, derived and checked from scratch. */
export function allFindings(plan: Plan): readonly Finding[] {
  return findingsOf(pipelineCreate().derive(plan))
}

/** Findings of a plan but for easements left out: bare curves, whose places are easily worked out, are what most cases are made of. */
export function planFindings(plan: Plan): readonly Finding[] {
  return allFindings(plan).filter(({ rule }) => rule !== 'easement-short')
}

/** The one finding that a plan must have; fails the test when there is none, another rule's or more. */
export function onlyFinding(plan: Plan, rule: RuleName): Finding {
  const findings = rule === 'easement-short' ? allFindings(plan) : planFindings(plan)
  const [finding] = findings
  if (findings.length !== 1 || finding === undefined || finding.rule !== rule) {
    throw new Error(
      `expected one finding of ${rule}, there are: ${JSON.stringify(findings.map(({ id, measured, limit }) => [id, measured, limit]))}`,
    )
  }
  return finding
}
