import { createStore } from 'zustand/vanilla'
import { shallow } from 'zustand/vanilla/shallow'
import type { StoreApi } from 'zustand/vanilla'
import { settleFindings } from '../core/checks/index.ts'
import type { Derived } from '../core/pipeline/types.ts'
import type { Plan } from '../core/plan/index.ts'
import type { ChecksNews, PlanChecks } from '../engine/planChecks.ts'
import { lastGoodAfter, lastGoodNone } from './lastGood.ts'
import type { DerivedStoreState, PlanStoreState } from './types.ts'

const nothing = { findings: [], silenced: [], idle: [], findingsFor: null, checksTrouble: null } as const

/**
 * The store of what follows from the plan. Geometry is derived at once with each change. Findings come when the checks are through with
 * it; until then those of the older plan stay, and `findingsFor` is the plan that they belong to.
 */
export function derivedStoreCreate(
  planStore: StoreApi<PlanStoreState>,
  pipeline: { derive(plan: Plan): Derived },
  checks: PlanChecks,
): StoreApi<DerivedStoreState> {
  const store = createStore<DerivedStoreState>()(() => ({
    derived: pipeline.derive(planStore.getState().plan),
    lastGood: lastGoodNone,
    ...nothing,
  }))
  let documents = 0
  const follow = ({ plan, transaction }: PlanStoreState): void => {
    const document = documents
    const tell = (news: ChecksNews): void => {
      // What was found in another document says nothing of this one.
      if (document !== documents) return
      if (news.ok) {
        const { open, silenced, idle } = settleFindings(news.plan, news.findings)
        const { findings } = store.getState()
        // A drag finds the same again and again: the same list wakes nobody.
        const told = shallow(findings, open) ? findings : open
        store.setState({ findings: told, silenced, idle, findingsFor: news.plan, checksTrouble: null })
      }
      // Of the newest plan only: for an older one there is another try on the way.
      else if (news.plan === store.getState().derived.plan) store.setState({ checksTrouble: news.trouble })
    }
    checks.follow(plan, tell, transaction !== null)
  }
  planStore.subscribe((state, before) => {
    const { plan } = state
    if (plan === before.plan) return
    const derived = pipeline.derive(plan)
    if (state.loaded !== before.loaded) {
      documents++
      store.setState({ derived, lastGood: lastGoodNone, ...nothing })
    } else {
      const { lastGood, derived: was } = store.getState()
      store.setState({ derived, lastGood: lastGoodAfter(lastGood, was, derived) })
    }
    follow(state)
  })
  follow(planStore.getState())
  return store
}

/** The checks are at work: what is found by now is of an older plan. */
export function isChecking({ derived, findingsFor, checksTrouble }: DerivedStoreState): boolean {
  return findingsFor !== derived.plan && checksTrouble === null
}
