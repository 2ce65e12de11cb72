import type { Autosave, PlanLibrary } from '../store/index.ts'
import { useDesk } from './desk.ts'

/** What the desk needs of keeping: how it stands, the way to take over from another page, and all plans of this browser. */
export interface Keeper extends Omit<Autosave, 'stop'> {
  readonly library: PlanLibrary
  /** Plans that some page has the right to write. */
  claimed(): Promise<ReadonlySet<string>>
}

export function useKeeper(): Keeper {
  const keeper = useDesk((desk) => desk.keeper)
  if (keeper === null) throw new Error('useKeeper on a desk without a keeper')
  return keeper
}
