import { memo, useLayoutEffect, useRef, useSyncExternalStore } from 'react'
import type { ReactNode } from 'react'
import type { Box } from '../../core/geom/types.ts'
import type { NetworkTrack } from '../../core/network/types.ts'
import { useDerived, usePlan } from '../context.ts'
import { useView } from './canvasContext.ts'
import { detailAt } from './detail.ts'
import { farPaint, farRepaint } from './farPicture.ts'
import type { FarFrame } from './farPicture.ts'
import { themeShown, themeWatch } from './themeShown.ts'
import { isMany, trackBox, tracksChanged } from './tracksDrawn.ts'
import type { View } from './viewport.ts'
import { screenOfPlan, viewBoxInPlan } from './viewport.ts'

/** Beyond the view so much of its size is painted too: a push shows it. */
const beyondShare = 0.4
/** Paper about the outermost line that a line may be dragged over without a new picture, and what its stroke needs of it, px. */
const aroundPx = { painted: 90, needed: 4 }

/** The lines of many tracks from afar, as one picture. */
export const FarLines = memo(function FarLines(): ReactNode {
  const view = useView()
  const railway = usePlan((state) => state.plan.railway)
  const isNeeded = useDerived((state) => isMany(state.derived.network.tracks))
  return isNeeded && detailAt(view.pxPerMm, railway, null) === 'far' ? <Picture view={view} /> : null
})

type Tracks = Parameters<typeof isMany>[0]

function Picture({ view }: { readonly view: View }): ReactNode {
  const canvas = useRef<HTMLCanvasElement>(null)
  const tracks = useDerived((state) => state.derived.network.tracks)
  const theme = useSyncExternalStore(themeWatch, themeShown)
  const painted = useRef<{ readonly view: View; readonly theme: string; readonly frame: FarFrame; readonly tracks: Tracks } | null>(null)

  useLayoutEffect(() => {
    const element = canvas.current
    const context = element?.getContext('2d') ?? null
    if (element === null || context === null) return
    const before = painted.current
    if (before?.view === view && before.theme === theme && holdsAll(before.frame, changedOf(before.tracks, tracks), view)) {
      farRepaint(context, before.frame, before.tracks, tracks)
      painted.current = { ...before, tracks }
      return
    }
    const frame = frameOf(element, view, tracks)
    if (element.width !== frame.width) element.width = frame.width
    if (element.height !== frame.height) element.height = frame.height
    const at = screenOfPlan(view, { x: frame.minX, y: frame.maxY })
    Object.assign(element.style, {
      left: `${at.left}px`,
      top: `${at.top}px`,
      width: `${frame.width / frame.density}px`,
      height: `${frame.height / frame.density}px`,
    })
    farPaint(context, frame, tracks)
    painted.current = { view, theme, frame, tracks }
  }, [view, theme, tracks])

  return <canvas ref={canvas} className="far-lines pushed" aria-hidden="true" />
}

/** The part of the plan that is in view or comes into it by a push, on whole pixels. */
function frameOf(element: HTMLCanvasElement, view: View, tracks: Tracks): FarFrame {
  const density = window.devicePixelRatio || 1
  const scale = view.pxPerMm * density
  const { minX, minY, maxX, maxY } = boxToPaint(view, tracks.values(), aroundPx.painted)
  const corner = screenOfPlan(view, { x: minX, y: maxY })
  const [left, top] = [Math.floor(corner.left), Math.floor(corner.top)]
  return {
    minX: minX + (left - corner.left) / view.pxPerMm,
    maxY: maxY - (top - corner.top) / view.pxPerMm,
    scale,
    width: Math.max(1, Math.ceil((maxX - minX) * scale) + 1),
    height: Math.max(1, Math.ceil((maxY - minY) * scale) + 1),
    density,
    ink: getComputedStyle(element).color,
  }
}

function boxToPaint(view: View, tracks: Iterable<NetworkTrack>, paperPx: number): Box {
  const shown = viewBoxInPlan(view)
  const [x, y] = [(shown.maxX - shown.minX) * beyondShare, (shown.maxY - shown.minY) * beyondShare]
  const around = paperPx / view.pxPerMm
  let [minX, minY, maxX, maxY] = [Infinity, Infinity, -Infinity, -Infinity]
  for (const track of tracks) {
    const box = trackBox(track)
    if (box === null) continue
    minX = Math.min(minX, box.minX - around)
    minY = Math.min(minY, box.minY - around)
    maxX = Math.max(maxX, box.maxX + around)
    maxY = Math.max(maxY, box.maxY + around)
  }
  return {
    minX: Math.max(minX, shown.minX - x),
    minY: Math.max(minY, shown.minY - y),
    maxX: Math.min(maxX, shown.maxX + x),
    maxY: Math.min(maxY, shown.maxY + y),
  }
}

/** Tracks that may lie otherwise than the picture has them: what it held before, it holds still. */
const changedOf = (before: Tracks, now: Tracks): Iterable<NetworkTrack> => tracksChanged(before, now)?.map(({ is }) => is) ?? now.values()

/** Whether all that is to be painted of these tracks lies within the picture: a line may be dragged beyond it. */
function holdsAll({ minX, maxY, width, height, scale }: FarFrame, tracks: Iterable<NetworkTrack>, view: View): boolean {
  const box = boxToPaint(view, tracks, aroundPx.needed)
  const slack = 1 / scale
  return (
    box.minX >= minX - slack &&
    box.maxY <= maxY + slack &&
    box.maxX <= minX + width / scale + slack &&
    box.minY >= maxY - height / scale - slack
  )
}
