import type { StoreApi } from 'zustand/vanilla'
import { makerOn } from '../../core/alignment/index.ts'
import { makerOf, recordFind } from '../../core/plan/index.ts'
import type { Id, Plan, TrackEndName } from '../../core/plan/types.ts'
import type { Stores } from '../context.ts'
import type { DeskState } from '../desk.ts'

/** Whether an end of a track is free to go on from. The numbers of makers are counted from a start, which then stays. */
export function canDrawOn(plan: Plan, track: Id, end: TrackEndName): boolean {
  const record = recordFind(plan, 'tracks', track)
  if (record === null || record.end.kind === 'closed' || makerOf(plan, 'tracks', track) !== null) return false
  return record[end].kind === 'free' && (end === 'end' || makerOn(plan, track) === null)
}

/** Takes a track up at an end. It is drawn on the plan, wherever this was asked for. */
export function drawOnBegin(stores: Stores, desk: StoreApi<DeskState>, track: Id, end: TrackEndName): void {
  stores.session.getState().setStage('line')
  desk.getState().set({ drawOn: { track, end }, lineAct: null, trial: null, drawer: null })
}
