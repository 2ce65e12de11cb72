import { readFileSync } from 'node:fs'
import fc from 'fast-check'
import { expect, test } from 'vitest'
import type { RuleName } from '../../../src/core/checks/types.ts'
import type { Plan } from '../../../src/core/plan/index.ts'
import { planRead } from '../../../src/formats/planjson.ts'
import { findingsAsked, planFindings } from '../../support/checks.ts'
import { planArbitrary } from '../../support/planArbitraries.ts'

/** Holds what each rule says when it is asked alone (planFindings), and what all but one say, against what all say together. Gives the rules that had something to say. */
function heldAlone(plan: Plan): ReadonlySet<RuleName> {
  const all = planFindings(plan, [])
  const rules = new Set(all.map(({ rule }) => rule))
  const [first, ...others] = rules
  expect(findingsAsked(plan, others), `all but ${first}`).toEqual(all.filter(({ rule }) => rule !== first))
  return rules
}

test('a rule that is asked for alone says what it says among all', () => {
  const seen = new Set<RuleName>()
  for (const name of ['fennimore', 'shelf']) {
    const read = planRead(readFileSync(`public/demo/${name}.json`, 'utf8'))
    if (!read.ok) throw new Error(`${name} does not read`)
    for (const rule of heldAlone(read.plan)) seen.add(rule)
  }
  fc.assert(
    fc.property(planArbitrary, (plan) => {
      for (const rule of heldAlone(plan)) seen.add(rule)
    }),
    { seed: 20261128, numRuns: 40 },
  )
  // What these plans come to of 31 rules; the others are held by planFindings, in the tests of each rule.
  expect(seen.size).toBeGreaterThanOrEqual(15)
})
