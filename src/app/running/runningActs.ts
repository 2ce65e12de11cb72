import type { StoreApi } from 'zustand/vanilla'
import { trackOfSelection } from '../chart/trackOfSelection.ts'
import type { Stores } from '../context.ts'
import type { DeskState } from '../desk.ts'

/** Shows the swept bands, or puts them away. */
export function bandsToggle(desk: StoreApi<DeskState>): void {
  const { bands, push, set } = desk.getState()
  if (bands === null) set({ bands: { cars: null, isAll: false } })
  else set({ bands: null, clearances: push === null ? null : desk.getState().clearances })
}

/** Takes a car in hand on the track in question; a second time puts it away. */
export function pushToggle(stores: Stores, desk: StoreApi<DeskState>): void {
  const { push, bands, set } = desk.getState()
  if (push !== null) {
    set({ push: null, clearances: bands === null ? null : desk.getState().clearances })
    return
  }
  const { plan } = stores.plan.getState()
  const { selection } = stores.session.getState()
  const track = trackOfSelection(selection, plan) ?? Object.keys(plan.tracks)[0]
  if (track === undefined) return
  const train = { place: { track, stationMm: 0, isRising: true }, headMm: 0, lined: new Map(), stop: null }
  set({ push: { car: null, count: 1, train, isPlaced: false } })
}

/** The keys of both; true when the key was theirs. Letters belong to a tool while one is in the hand. */
export function runningKey(key: string, stores: Stores, desk: StoreApi<DeskState>): boolean {
  if (key === 'Escape' && desk.getState().push !== null) {
    pushToggle(stores, desk)
    return true
  }
  if (stores.session.getState().tool !== 'select') return false
  if (key === 'b' || key === 'B') bandsToggle(desk)
  else if (key === 'p' || key === 'P') pushToggle(stores, desk)
  else return false
  return true
}
