import { findingsOf } from '../../src/core/checks/index.ts'
import type { Finding, RuleName } from '../../src/core/checks/index.ts'
import { pipelineCreate } from '../../src/core/pipeline/index.ts'
import type { Plan } from '../../src/core/plan/index.ts'

/** All findings of a plan, derived and checked from scratch. */
export function planFindings(plan: Plan): readonly Finding[] {
  return findingsOf(pipelineCreate().derive(plan))
}

/** The one finding that a plan must have; fails the test when there is none, another rule's or more. */
export function onlyFinding(plan: Plan, rule: RuleName): Finding {
  const findings = planFindings(plan)
  const [finding] = findings
  if (findings.length !== 1 || finding === undefined || finding.rule !== rule) {
    throw new Error(
      `expected one finding of ${rule}, there are: ${JSON.stringify(findings.map(({ id, measured, limit }) => [id, measured, limit]))}`,
    )
  }
  return finding
}
