import type { StoreApi } from 'zustand/vanilla'
import { pathNearest } from '../../core/geom/index.ts'
import { trackOfSelection } from '../chart/trackOfSelection.ts'
import { usualActionOf } from '../commands/keyMap.ts'
import type { Pressed } from '../commands/keyMap.ts'
import type { Stores } from '../context.ts'
import type { DeskState } from '../desk.ts'
import { viewportShow } from '../viewportShow.ts'

/** Shows the swept bands, or puts them away. */
export function bandsToggle(desk: StoreApi<DeskState>): void {
  const { bands, push, set } = desk.getState()
  if (bands === null) set({ bands: { cars: null, isAll: false } })
  else set({ bands: null, clearances: push === null ? null : desk.getState().clearances })
}

/** Takes a car in hand on the track in question, where it lies nearest to the middle of the view; a second time puts it away. */
export function pushToggle(stores: Stores, desk: StoreApi<DeskState>): void {
  const { push, bands, set } = desk.getState()
  if (push !== null) {
    set({ push: null, clearances: bands === null ? null : desk.getState().clearances })
    return
  }
  const { plan } = stores.plan.getState()
  const { selection, viewport } = stores.session.getState()
  const track = trackOfSelection(selection, plan) ?? Object.keys(plan.tracks)[0]
  if (track === undefined) return
  const alignment = stores.derived.getState().derived.network.tracks.get(track)?.alignment
  const near = alignment?.ok === true ? pathNearest(alignment.path, viewport.centre) : null
  // Where the view is elsewhere it goes to the car, not the car to a far corner of the track.
  if (near !== null) viewportShow(stores, { minX: near.x, minY: near.y, maxX: near.x, maxY: near.y })
  const train = { place: { track, stationMm: near?.stationMm ?? 0, isRising: true }, headMm: 0, lined: new Map(), stop: null }
  set({ push: { lead: null, car: null, count: 1, train, isPlaced: false } })
}

/** The keys of both, pressed without Ctrl or Alt; true when one was theirs. Letters belong to a tool while one is in the hand. */
export function runningKey(press: Pressed, stores: Stores, desk: StoreApi<DeskState>): boolean {
  if (press.key === 'Escape' && desk.getState().push !== null) {
    pushToggle(stores, desk)
    return true
  }
  if (stores.session.getState().tool !== 'select') return false
  const action = usualActionOf(press, stores.prefs.getState().keys)
  if (action === 'bands') bandsToggle(desk)
  else if (action === 'push') pushToggle(stores, desk)
  else return false
  return true
}
