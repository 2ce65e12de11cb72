import type { StoreApi } from 'zustand/vanilla'
import type { DeskState } from '../desk.ts'

/** Before the plan in a link's fragment. */
export const linkMark = 'plan='

/** Asks about a plan that came by the page's address, now and when another link is followed in this page. */
export function linkWatch(page: Window, desk: StoreApi<DeskState>): void {
  const look = (): void => {
    if (page.location.hash.startsWith(`#${linkMark}`)) desk.getState().set({ dialog: 'shared' })
  }
  page.addEventListener('hashchange', look)
  look()
}
