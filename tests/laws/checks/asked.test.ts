import { readFileSync } from 'node:fs'
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { checksCreateRunner, findingsOf } from '../../../src/core/checks/index.ts'
import type { RuleName } from '../../../src/core/checks/types.ts'
import { networkCreateDeriver } from '../../../src/core/network/index.ts'
import type { Plan } from '../../../src/core/plan/index.ts'
import { planRead } from '../../../src/formats/planjson.ts'
import { planArbitrary } from '../../support/planArbitraries.ts'

/** Holds what each rule says when it is asked alone against what all say together. Gives the rules that had something to say. */
function heldAlone(plan: Plan): ReadonlySet<RuleName> {
  const input = { plan, network: networkCreateDeriver()(plan) }
  const all = findingsOf(input)
  const rules = new Set(all.map(({ rule }) => rule))
  for (const rule of rules) expect(checksCreateRunner(new Set([rule]))(input), rule).toEqual(all.filter((one) => one.rule === rule))
  const [first, ...others] = rules
  if (first !== undefined)
    expect(checksCreateRunner(new Set(others))(input), `all but ${first}`).toEqual(all.filter(({ rule }) => rule !== first))
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
