import { useEffect, useState } from 'react'
import { settleFindings } from '../../core/checks/index.ts'
import type { Cure, Finding } from '../../core/checks/types.ts'
import type { Network } from '../../core/network/types.ts'
import type { Plan } from '../../core/plan/types.ts'
import type { Stores } from '../context.ts'
import { useDerived, usePlan, usePrefs, useStores } from '../context.ts'
import { cureOutcome } from '../../words/checksText.ts'
import type { MeasurePrefs } from '../../words/measure.ts'
import { cureStep } from './cureStep.ts'

/** What each cure would bring that was not there, in the order of the cures; null: it is not known. */
export type CuresBring = readonly (readonly Finding[] | null)[]

/** After a change the hand may go on: cures are tried when it has rested so long, ms. */
const restMs = 300

/** Tried once for a plan, whoever shows it: in the list, the card and the particulars. */
const known = new WeakMap<Plan, Map<string, Promise<CuresBring>>>()

/** Has the checks look through the plan with each of several cures. null: they have not all been tried. */
export function useCuresTried(finding: Finding, cures: readonly Cure[]): CuresBring | null {
  const stores = useStores()
  const prefs = usePrefs((state) => state)
  const plan = usePlan((state) => state.plan)
  const network = useDerived((state) => state.derived.network)
  const open = useDerived((state) => state.findings)
  const isNow = useDerived((state) => state.findingsFor === state.derived.plan)
  const [tried, setTried] = useState<{ readonly finding: Finding; readonly bring: CuresBring } | null>(null)
  useEffect(() => {
    if (!isNow || network.plan !== plan) return undefined
    let isCurrent = true
    const timer = setTimeout(() => {
      const ofPlan = known.get(plan) ?? new Map<string, Promise<CuresBring>>()
      known.set(plan, ofPlan)
      const news = ofPlan.get(finding.id) ?? curesTry({ stores, plan, network, open, prefs }, finding, cures)
      ofPlan.set(finding.id, news)
      void news.then((bring) => (isCurrent ? setTried({ finding, bring }) : undefined))
    }, restMs)
    return () => {
      isCurrent = false
      clearTimeout(timer)
    }
  }, [stores, plan, network, open, prefs, isNow, finding, cures])
  return tried?.finding === finding ? tried.bring : null
}

interface Ground {
  readonly stores: Stores
  readonly plan: Plan
  readonly network: Network
  readonly open: readonly Finding[]
  readonly prefs: MeasurePrefs
}

async function curesTry({ stores, plan, network, open, prefs }: Ground, finding: Finding, cures: readonly Cure[]): Promise<CuresBring> {
  const bring: (readonly Finding[] | null)[] = []
  for (const cure of cures) {
    const step = cureStep(plan, network, cure, prefs)
    const heard = step.ok ? await stores.checks.lookThrough(step.after) : null
    const after = heard?.ok === true && step.ok ? settleFindings(step.after, heard.findings).open : null
    bring.push(after === null ? null : cureOutcome(finding, open, after).come)
  }
  return bring
}
