import type { Finding } from '../core/checks/types.ts'
import type { Plan } from '../core/plan/types.ts'
import { planDifference } from './planDifference.ts'
import type { ChecksEngine, ChecksQuestion } from './protocol.ts'

/** What came of looking through a plan. trouble: in words; the plan could not be checked at all. */
export type ChecksNews =
  | { readonly ok: true; readonly plan: Plan; readonly findings: readonly Finding[] }
  | { readonly ok: false; readonly plan: Plan; readonly trouble: string }

/** Looks through plans, one after the other, and tells when it is through. */
export interface PlanChecks {
  /**
   * The plan as it is now. One that comes while another is looked through waits; of those that wait only the newest is looked through.
   * isPassing: a step of a drag, which the next one replaces: after such a look comes a rest, which a plan that stays breaks off.
   */
  follow(plan: Plan, tell: (news: ChecksNews) => void, isPassing?: boolean): void
  /** A plan as it might be. Findings that are the same as those of the plan followed are the same objects. */
  lookThrough(plan: Plan): Promise<ChecksNews>
}

export interface PlanChecksOptions {
  readonly engine: ChecksEngine
  /** The checks in the page, loaded when the engine was lost twice in a row: then there is no worker to be had. */
  readonly fallback: () => Promise<ChecksEngine>
  /** Checks in the page take the time of the hand: they wait for this before they look through the newest plan; in a worker, of a drag. */
  readonly rest: () => Promise<void>
}

/** Checks by an engine that keeps a plan: it is asked one question at a time, and told only what is different. */
export function planChecks(options: PlanChecksOptions): PlanChecks {
  let engine = options.engine
  let isFallback = false
  /** What the engine keeps, and what it said of it. */
  let kept: { readonly number: number; readonly plan: Plan; readonly findings: readonly Finding[] } | null = null
  let number = 0
  let waiting: { readonly plan: Plan; readonly tell: (news: ChecksNews) => void; readonly isPassing: boolean } | null = null
  /** Ends the rest between two steps of a drag. */
  let wake: () => void = () => undefined
  const lookers: { readonly plan: Plan; readonly tell: (news: ChecksNews) => void }[] = []
  let isBusy = false

  function question(plan: Plan): ChecksQuestion {
    number++
    const patch = kept === null ? null : planDifference(kept.plan, plan)
    return kept === null || patch === null ? { kind: 'whole', number, plan } : { kind: 'change', number, since: kept.number, patch }
  }

  async function newsOf(plan: Plan): Promise<ChecksNews> {
    for (let losses = 0; ; ) {
      const asked = question(plan)
      const before = kept?.findings ?? []
      try {
        const answer = await engine.ask(asked)
        if (answer.kind === 'found') {
          const findings = answer.findings.flatMap((one) => (typeof one === 'number' ? before.slice(one, one + 1) : [one]))
          kept = { number: asked.number, plan, findings }
          return { ok: true, plan, findings }
        }
        kept = null
        if (answer.kind === 'failed') return { ok: false, plan, trouble: answer.message }
        // A whole plan is never lost.
        if (asked.kind === 'whole') return { ok: false, plan, trouble: 'The checks lost the plan.' }
      } catch (error) {
        kept = null
        losses++
        if (losses < 2) continue
        if (isFallback) return { ok: false, plan, trouble: error instanceof Error ? error.message : String(error) }
        const given = await fallbackOnce()
        if (given !== null) return { ok: false, plan, trouble: given }
      }
    }
  }

  /** Puts the checks in the page in the place of those that were lost; what hinders it, in words. */
  async function fallbackOnce(): Promise<string | null> {
    try {
      const inPage = await options.fallback()
      engine.dispose()
      engine = inPage
      isFallback = true
      return null
    } catch (error) {
      return error instanceof Error ? error.message : String(error)
    }
  }

  async function work(): Promise<void> {
    if (isBusy) return
    isBusy = true
    while (waiting !== null || lookers.length > 0) {
      if (isFallback) await options.rest()
      const next = waiting ?? lookers.shift()
      if (next === waiting) waiting = null
      if (next === undefined || next === null) continue
      next.tell(await newsOf(next.plan))
      if (isFallback || !('isPassing' in next && next.isPassing)) continue
      await Promise.race([options.rest(), new Promise<void>((woken) => (wake = woken))])
    }
    isBusy = false
  }

  return {
    follow(plan, tell, isPassing = false) {
      waiting = { plan, tell, isPassing }
      if (!isPassing) wake()
      void work()
    },
    lookThrough: (plan) =>
      new Promise((tell) => {
        lookers.push({ plan, tell })
        wake()
        void work()
      }),
  }
}
