import { checksCreateRunner } from '../../src/core/checks/index.ts'
import { networkCreateDeriver } from '../../src/core/network/index.ts'
import type { Plan } from '../../src/core/plan/types.ts'
import type { ChecksNews, PlanChecks } from '../../src/engine/planChecks.ts'

/** Checks that are through before the edit returns: for tests of what is done with findings, not of how they come. */
export function checksAtOnce(): PlanChecks {
  const check = checksCreateRunner()
  const networkOf = networkCreateDeriver()
  const news = (plan: Plan): ChecksNews => ({ ok: true, plan, findings: check({ plan, network: networkOf(plan) }) })
  return { follow: (plan, tell) => tell(news(plan)), lookThrough: (plan) => Promise.resolve(news(plan)) }
}
