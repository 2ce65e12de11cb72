import type { Stores } from '../context.ts'
import { keysOfAction } from './keyMap.ts'

/** One thing that can be done, in words. The menus, the finder and the keys all read this one list. */
export interface Action {
  readonly id: string
  readonly group: 'Plan' | 'Steps' | 'Do' | 'Go to' | 'Look'
  readonly words: string
  /** What it makes, where its words do not say; shown. */
  readonly about?: string
  /** What else it is called, for the finder; not shown. */
  readonly also?: string
  /** The keys for it, as they are printed on a keyboard. */
  readonly keys?: string
  readonly isPossible: boolean
  /** It goes to a thing of this plan, so it has no keys of its own. */
  readonly isRecord?: true
  /** What has to be done first where it is not possible; the finder says so. Without it such an action is left out there. */
  readonly needs?: string
  run(): void
}

/** Each with the keys that it has now. */
export function withKeys(stores: Stores, actions: readonly Action[]): readonly Action[] {
  const own = stores.prefs.getState().keys
  return actions.map((action) => {
    const keys = keysOfAction(action.id, own)
    return keys === undefined ? action : { ...action, keys }
  })
}
