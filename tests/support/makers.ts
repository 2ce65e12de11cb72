import { makerExpand } from '../../src/core/makers/index.ts'
import type { MakerResult } from '../../src/core/makers/index.ts'
import { networkCreateDeriver } from '../../src/core/network/index.ts'
import type { Network } from '../../src/core/network/index.ts'
import type { Maker, MakerNumbers, Plan } from '../../src/core/plan/index.ts'
import { planAfter } from './plans.ts'

export const networkOf = (plan: Plan): Network => networkCreateDeriver()(plan)

/** A maker that has not made anything yet. */
export function aMaker(numbers: MakerNumbers, change: Partial<Maker> = {}): Maker {
  return { id: 'maker-1', name: 'Made', lineClass: 'yard', numbers, made: { tracks: [], turnouts: [] }, ...change }
}

/** What a maker answers on a plan. */
export const expanded = (plan: Plan, maker: Maker): MakerResult => makerExpand(plan, networkOf(plan), maker)

/** The plan with what the maker makes in it; a refusal fails the test with its problem. */
export function planMade(plan: Plan, maker: Maker): Plan {
  const result = expanded(plan, maker)
  if (!result.ok) throw new Error(`${maker.numbers.kind} refused: ${JSON.stringify(result.problem)}`)
  return planAfter(plan, result.command)
}
