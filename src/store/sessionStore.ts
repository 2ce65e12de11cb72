import { createStore } from 'zustand/vanilla'
import type { StoreApi } from 'zustand/vanilla'
import { hideablesOf } from './hidden.ts'
import type { SessionState, SessionStoreState } from './types.ts'

/**
 * What becomes of each key of the session. A new key does not compile until it has its row.
 * persist 'browser': kept with the plan in this browser and there again after a reload.
 */
export const sessionKeys: { readonly [K in keyof SessionState]: { readonly persist: 'browser' | 'no'; readonly undoable: boolean } } = {
  stage: { persist: 'browser', undoable: false },
  tool: { persist: 'no', undoable: false },
  selection: { persist: 'browser', undoable: false },
  viewport: { persist: 'browser', undoable: false },
  hover: { persist: 'no', undoable: false },
  hidden: { persist: 'browser', undoable: false },
  notice: { persist: 'no', undoable: false },
}

/** An empty HO room of about 3 m fills a usual window at this scale. */
export const sessionFresh: SessionState = {
  stage: 'room',
  tool: 'select',
  selection: { kind: 'none' },
  viewport: { centre: { x: 1500, y: 1000 }, pxPerMm: 0.3 },
  hover: null,
  hidden: [],
  notice: null,
}

/** The store of what the person is doing: where they look, what they hold. Nothing of it is in the plan. */
export function sessionStoreCreate(kept: Partial<SessionState> = {}): StoreApi<SessionStoreState> {
  return createStore<SessionStoreState>()((set, get) => ({
    ...sessionFresh,
    ...kept,
    // Stage, tool and hover are set again and again by pointer moves; equal values must not wake anyone.
    setStage: (stage) => stage !== get().stage && set({ stage }),
    setTool: (tool) => tool !== get().tool && set({ tool }),
    select(selection) {
      const of = hideablesOf(selection)
      const { hidden } = get()
      set({ selection, ...(hidden.some((kind) => of.includes(kind)) ? { hidden: hidden.filter((kind) => !of.includes(kind)) } : {}) })
    },
    setViewport: (viewport) => set({ viewport }),
    setHover(hover) {
      const old = get().hover
      if (old?.track !== hover?.track || old?.stationMm !== hover?.stationMm) set({ hover })
    },
    setHidden(hidden) {
      const isGone = hideablesOf(get().selection).some((kind) => hidden.includes(kind))
      set({ hidden, ...(isGone ? { selection: { kind: 'none' } } : {}) })
    },
    setNotice: (notice) => notice !== get().notice && set({ notice }),
  }))
}
