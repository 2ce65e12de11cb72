import type { StoreApi } from 'zustand/vanilla'
import { makerOf, recordFind } from '../../core/plan/index.ts'
import type { Id, Plan } from '../../core/plan/types.ts'
import type { Stores } from '../context.ts'
import type { DeskState } from '../desk.ts'

/** Whether a track has a free end of its own to go on from. */
export function canDrawOn(plan: Plan, track: Id): boolean {
  return recordFind(plan, 'tracks', track)?.end.kind === 'free' && makerOf(plan, 'tracks', track) === null
}

/** Takes a track up at its end. It is drawn on the plan, wherever this was asked for. */
export function drawOnBegin(stores: Stores, desk: StoreApi<DeskState>, track: Id): void {
  stores.session.getState().setStage('line')
  desk.getState().set({ drawOn: track, lineAct: null, trial: null, drawer: null })
}
