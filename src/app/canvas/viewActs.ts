import type { StoreApi } from 'zustand/vanilla'
import type { Stores } from '../context.ts'
import { planBoxNow } from '../planBox.ts'
import type { LiveState } from './live.ts'
import { viewFitting, viewPannedBy, viewZoomedAt, type ScreenPoint, type View } from './viewport.ts'

/** The kept view with the size of the canvas. */
export function viewNow(stores: Stores, live: StoreApi<LiveState>): View {
  return { ...stores.session.getState().viewport, size: live.getState().size }
}

export function viewKeep(stores: Stores, { centre, pxPerMm }: View): void {
  stores.session.getState().setViewport({ centre, pxPerMm })
}

export function viewZoomAtMiddle(stores: Stores, live: StoreApi<LiveState>, factor: number): void {
  const view = viewNow(stores, live)
  const middle: ScreenPoint = { left: view.size.width / 2, top: view.size.height / 2 }
  viewKeep(stores, viewZoomedAt(view, middle, factor))
}

export function viewPush(stores: Stores, live: StoreApi<LiveState>, right: number, down: number): void {
  viewKeep(stores, viewPannedBy(viewNow(stores, live), right, down))
}

/** Shows all that is drawn; an empty room stays as it is. */
export function viewWhole(stores: Stores, live: StoreApi<LiveState>): void {
  const box = planBoxNow(stores)
  if (box !== null) viewKeep(stores, viewFitting(viewNow(stores, live), box))
}
