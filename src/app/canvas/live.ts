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
  readonly findingIsLeft: boolean
  /** What is selected has its finding's card, unless that was shut. */
  readonly isCardShut: boolean
}

export function liveStoreCreate(): StoreApi<LiveState> {
  return createStore<LiveState>()(() => ({
    size: { width: 900, height: 600 },
    pan: null,
    pointer: null,
    finding: null,
    findingIsLeft: false,
    isCardShut: false,
  }))
}

/** A card stays this long after the pointer has left its mark: time to cross over to its button. */
const lingerMs = 300

/** A reason that is being typed in a card keeps the card, wherever the pointer goes. */
function isTypedIn(): boolean {
  const at = document.activeElement
  return at instanceof HTMLInputElement && at.value !== '' && at.closest('.finding-card') !== null
}

/** The pointer is at a finding's mark or on its card. */
export function findingPoint(live: StoreApi<LiveState>, id: string): void {
  if (isTypedIn() && live.getState().finding !== id) return
  live.setState({ finding: id, findingIsLeft: false })
}

/** The card is put away, whatever it came by, until a mark is pointed at or something else is selected. */
export function findingShut(live: StoreApi<LiveState>): void {
  live.setState({ finding: null, findingIsLeft: false, isCardShut: true })
}

/** The pointer has left it; the card goes unless the pointer is back in time. */
export function findingLeave(live: StoreApi<LiveState>, id: string): void {
  live.setState({ findingIsLeft: true })
  setTimeout(() => {
    const { finding, findingIsLeft } = live.getState()
    if (finding === id && findingIsLeft && !isTypedIn()) live.setState({ finding: null })
  }, lingerMs)
}
