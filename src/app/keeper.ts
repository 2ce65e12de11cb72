import { createContext, useContext } from 'react'
import type { StoreApi } from 'zustand/vanilla'
import type { KeepStatus } from '../store/types.ts'

/** What the desk needs of the autosave: how it stands, and the way to take over from another page. */
export interface Keeper {
  readonly status: StoreApi<KeepStatus>
  takeOver(): Promise<void>
}

export const KeeperContext = createContext<Keeper | null>(null)

export function useKeeper(): Keeper {
  const keeper = useContext(KeeperContext)
  if (keeper === null) throw new Error('useKeeper outside of KeeperContext')
  return keeper
}
