import { createContext, useContext } from 'react'
import { useStore } from 'zustand'
import type { StoreApi } from 'zustand/vanilla'
import type { PlanChecks } from '../engine/planChecks.ts'
import type { DerivedStoreState, LayingStoreState, PlanStoreState, PrefsStoreState, SessionStoreState } from '../store/types.ts'

/** The stores of one open workbench, and its checks. They are handed down, not global, so that a test can build its own. */
export interface Stores {
  readonly plan: StoreApi<PlanStoreState>
  readonly session: StoreApi<SessionStoreState>
  readonly prefs: StoreApi<PrefsStoreState>
  readonly derived: StoreApi<DerivedStoreState>
  /** What the plan is cut into, while a stage of laying is open. */
  readonly laying: StoreApi<LayingStoreState>
  /** For a look at a plan as it might be; what is found in the plan itself is in `derived`. */
  readonly checks: PlanChecks
}

export const StoresContext = createContext<Stores | null>(null)

/** The stores themselves: for event handlers, which read `getState()` and need no re-render. */
export function useStores(): Stores {
  const stores = useContext(StoresContext)
  if (stores === null) throw new Error('useStores outside of StoresContext')
  return stores
}

/** The plan and what follows from it, as far as a part of the page keeps up with them: see Paced. */
export type Pace = Pick<Stores, 'plan' | 'derived'>

/** null: what is here keeps up with every step. */
export const PaceContext = createContext<Pace | null>(null)

export function usePlan<T>(selector: (state: PlanStoreState) => T): T {
  const stores = useStores()
  return useStore((useContext(PaceContext) ?? stores).plan, selector)
}

export function useSession<T>(selector: (state: SessionStoreState) => T): T {
  return useStore(useStores().session, selector)
}

export function usePrefs<T>(selector: (state: PrefsStoreState) => T): T {
  return useStore(useStores().prefs, selector)
}

export function useDerived<T>(selector: (state: DerivedStoreState) => T): T {
  const stores = useStores()
  return useStore((useContext(PaceContext) ?? stores).derived, selector)
}

export function useLaying<T>(selector: (state: LayingStoreState) => T): T {
  return useStore(useStores().laying, selector)
}
