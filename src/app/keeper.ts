import { createContext, useContext } from 'react'
import type { StoreApi } from 'zustand/vanilla'
import type { PlanLibrary } from '../store/index.ts'
import type { KeepStatus } from '../store/types.ts'

/** What the desk needs of keeping: how it stands, the way to take over from another page, and all plans of this browser. */
export interface Keeper {
  readonly status: StoreApi<KeepStatus>
  readonly library: PlanLibrary
  takeOver(): Promise<void>
  /** Writes what is not written yet. */
  flush(): Promise<void>
  /** The plan that is loaded next is this one of the shelf. */
  nextIs(planId: string): void
}

export const KeeperContext = createContext<Keeper | null>(null)

export function useKeeper(): Keeper {
  const keeper = useContext(KeeperContext)
  if (keeper === null) throw new Error('useKeeper outside of KeeperContext')
  return keeper
}
