import { createStore } from 'zustand/vanilla'
import type { StoreApi } from 'zustand/vanilla'
import type { ScreenPoint, ScreenSize } from './viewport.ts'

/** What the canvas knows from moment to moment; nobody else needs it, and it is gone with the page. */
export interface LiveState {
  readonly size: ScreenSize
  /** How far the drawing is pushed while a pan goes on; the kept view follows at its end. */
  readonly pan: { readonly right: number; readonly down: number } | null
  /** Where the pointer was last, for what is said beside it; null: outside. */
  readonly pointer: ScreenPoint | null
  /** The finding whose mark is pointed at. */
  readonly finding: string | null
}

export function liveStoreCreate(): StoreApi<LiveState> {
  return createStore<LiveState>()(() => ({ size: { width: 900, height: 600 }, pan: null, pointer: null, finding: null }))
}
