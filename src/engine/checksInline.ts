import { checksCreateRunner } from '../core/checks/index.ts'
import type { Finding } from '../core/checks/types.ts'
import { patchApply } from '../core/edit/index.ts'
import { networkCreateDeriver } from '../core/network/index.ts'
import { dataFreeze } from '../core/plan/index.ts'
import type { Plan } from '../core/plan/types.ts'
import type { ChecksAnswer, ChecksEngine, ChecksQuestion } from './protocol.ts'

/** The checks in the thread that asks: inside their worker, in tests, and in the page where no worker runs. */
export function checksInline(): ChecksEngine {
  const networkOf = networkCreateDeriver()
  const check = checksCreateRunner()
  let kept: { readonly number: number; readonly plan: Plan } | null = null
  let told: readonly Finding[] = []
  let isDisposed = false

  function answer(question: ChecksQuestion): ChecksAnswer {
    const plan = planAsked(question)
    if (plan === null) return { kind: 'lost' }
    kept = null
    try {
      const findings = check({ plan, network: networkOf(plan) })
      const places = new Map(told.map((finding, place) => [finding, place]))
      const isFresh = question.kind === 'whole'
      const news = findings.map((finding) => (isFresh ? finding : (places.get(finding) ?? finding)))
      kept = { number: question.number, plan }
      told = findings
      return { kind: 'found', findings: news }
    } catch (error) {
      return { kind: 'failed', message: error instanceof Error ? error.message : String(error) }
    }
  }

  /** null: a change of a plan that is not kept. */
  function planAsked(question: ChecksQuestion): Plan | null {
    if (question.kind === 'whole') return dataFreeze(question.plan)
    return kept?.number === question.since ? patchApply(kept.plan, question.patch) : null
  }

  return {
    ask: async (question) => {
      if (isDisposed) throw new Error('The engine has been closed.')
      return answer(question)
    },
    dispose: () => {
      isDisposed = true
    },
  }
}
