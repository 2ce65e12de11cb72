import { createContext, useContext, useMemo, useSyncExternalStore } from 'react'
import { useStore } from 'zustand'
import type { StoreApi } from 'zustand/vanilla'
import type { ToolHost, ToolView } from '../../tools/index.ts'
import { useSession } from '../context.ts'
import type { LiveState } from './live.ts'
import type { View } from './viewport.ts'

/** What the parts of one canvas share. */
export interface CanvasParts {
  readonly host: ToolHost
  readonly live: StoreApi<LiveState>
}

export const CanvasContext = createContext<CanvasParts | null>(null)

export function useCanvas(): CanvasParts {
  const parts = useContext(CanvasContext)
  if (parts === null) throw new Error('useCanvas outside of CanvasContext')
  return parts
}

export function useLive<T>(selector: (state: LiveState) => T): T {
  return useStore(useCanvas().live, selector)
}

/** The kept view; it does not change while the drawing is being pushed. */
export function useView(): View {
  const viewport = useSession((session) => session.viewport)
  const size = useLive((live) => live.size)
  return useMemo(() => ({ ...viewport, size }), [viewport, size])
}

/** One thing of the tool in hand, by value: who asks is woken only when that is another. */
export function useTool<T extends string | boolean>(read: (host: ToolHost) => T): T {
  const { host } = useCanvas()
  return useSyncExternalStore(host.subscribe, () => read(host))
}

/** What the tool in hand is doing: another in every step of a drag. */
export function useToolView(): ToolView {
  const { host } = useCanvas()
  return useSyncExternalStore(host.subscribe, host.view)
}
