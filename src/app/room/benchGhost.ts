import { useEffect } from 'react'
import { boxOfPoints } from '../../core/geom/index.ts'
import type { Point } from '../../core/geom/types.ts'
import { useStores } from '../context.ts'
import { useDesk } from '../desk.ts'
import { viewportShow } from '../viewportShow.ts'

/** Benchwork by its sizes as it would stand now; its legs, and the corners of the room that it can stand in, by what the form calls them. */
export interface BenchGhost {
  readonly outline: readonly Point[]
  readonly legs: readonly { readonly letter: string; readonly at: Point }[]
  readonly corners: readonly { readonly number: number; readonly at: Point; readonly isTaken: boolean }[]
}

/** Shows it over the plan as long as its form is open, and brings it into view when it is changed. */
export function useBenchGhost(ghost: BenchGhost): void {
  const stores = useStores()
  const setDesk = useDesk((desk) => desk.set)
  useEffect(() => {
    setDesk({ benchGhost: ghost })
    viewportShow(stores, boxOfPoints(ghost.outline))
  })
  useEffect(() => () => setDesk({ benchGhost: null }), [setDesk])
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
