import type { StoreApi } from 'zustand/vanilla'
import type { Stores } from '../context.ts'
import type { DeskState } from '../desk.ts'
import { sightKindActions } from '../sight/sightActions.ts'
import { withKeys } from './action.ts'
import type { Action } from './action.ts'
import { doActions } from './doActions.ts'
import { goActions } from './goActions.ts'
import { lookActions } from './lookActions.ts'
import { planActions, stepActions } from './planActions.ts'
import { tradeWords } from './tradeWords.ts'

/** Everything that can be done now; what cannot be is listed too and says so. */
export function actionsNow(stores: Stores, desk: StoreApi<DeskState>): readonly Action[] {
  const all = [
    ...planActions(stores, desk),
    ...stepActions(stores, desk),
    ...doActions(stores, desk),
    ...goActions(stores, desk),
    ...lookActions(stores, desk),
    ...sightKindActions(stores),
  ]
  return withKeys(stores, all.map(withTradeWords))
}

function withTradeWords(action: Action): Action {
  const words = [action.also, tradeWords[action.id]].filter((text) => text !== undefined)
  return words.length === 0 ? action : { ...action, also: words.join(' ') }
}
