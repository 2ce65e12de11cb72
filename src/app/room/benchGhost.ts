import { useEffect, useRef } from 'react'
import { boxOfPoints } from '../../core/geom/index.ts'
import type { Point } from '../../core/geom/types.ts'
import { useStores } from '../context.ts'
import { useDesk } from '../desk.ts'
import type { Viewport } from '../../store/types.ts'
import { viewportShow } from '../viewportShow.ts'

/** A corner of the room by what the form calls it. onTake: the benchwork stands there. */
export interface GhostCorner {
  readonly number: number
  readonly at: Point
  readonly isTaken: boolean
  readonly onTake: () => void
}

/** Benchwork by its sizes as it would stand now; its legs, and the corners of the room that it can stand in, by what the form calls them. */
export interface BenchGhost {
  readonly outline: readonly Point[]
  readonly legs: readonly { readonly letter: string; readonly at: Point }[]
  readonly corners: readonly GhostCorner[]
}

/** Shows it over the plan as long as its form is open, and brings it into view when it is changed. Left again, the view is as it was. */
export function useBenchGhost(ghost: BenchGhost): void {
  const stores = useStores()
  const setDesk = useDesk((desk) => desk.set)
  const pushed = useRef<{ readonly from: Viewport; readonly to: Viewport } | null>(null)
  useEffect(() => {
    setDesk({ benchGhost: ghost })
    const { viewport } = stores.session.getState()
    viewportShow(stores, boxOfPoints(ghost.outline))
    const shown = stores.session.getState().viewport
    if (shown === viewport) return
    // Pushed by hand meanwhile: what it was pushed from counts.
    pushed.current = { from: pushed.current?.to === viewport ? pushed.current.from : viewport, to: shown }
  })
  useEffect(
    () => () => {
      setDesk({ benchGhost: null })
      const { viewport, setViewport } = stores.session.getState()
      if (pushed.current?.to === viewport) setViewport(pushed.current.from)
    },
    [setDesk, stores],
  )
}

/** The middle of each leg, by the back and the depth of each; benchwork lies on the left of its back. */
export function legsAt(back: readonly Point[], depthsMm: readonly number[], letters: readonly string[]): BenchGhost['legs'] {
  return back.slice(1).map((to, i) => {
    const from = back[i] ?? to
    const long = Math.hypot(to.x - from.x, to.y - from.y) || 1
    const half = (depthsMm[i] ?? 0) / 2
    const at = {
      x: (from.x + to.x) / 2 - ((to.y - from.y) / long) * half,
      y: (from.y + to.y) / 2 + ((to.x - from.x) / long) * half,
    }
    return { letter: letters[i] ?? '', at }
  })
}
