import type { Box, Point } from '../core/geom/types.ts'
import type { Stores } from './context.ts'

/** Size of the canvas on the screen in px, as far as the page can see it. */
function canvasSize(): { readonly width: number; readonly height: number } {
  const rect = document.querySelector('.table')?.getBoundingClientRect()
  return rect === undefined || rect.width === 0 ? { width: 900, height: 600 } : { width: rect.width, height: rect.height }
}

/** Half of what the canvas shows, as a box of the plan. */
function shownBox(stores: Stores): Box {
  const { centre, pxPerMm } = stores.session.getState().viewport
  const { width, height } = canvasSize()
  return {
    minX: centre.x - width / 2 / pxPerMm,
    maxX: centre.x + width / 2 / pxPerMm,
    minY: centre.y - height / 2 / pxPerMm,
    maxY: centre.y + height / 2 / pxPerMm,
  }
}

/** Brings a box into view: leaves the view alone when it is there already, else centres it and zooms out as far as needed. */
export function viewportShow(stores: Stores, box: Box | null): void {
  if (box === null) return
  const shown = shownBox(stores)
  if (box.minX >= shown.minX && box.maxX <= shown.maxX && box.minY >= shown.minY && box.maxY <= shown.maxY) return
  viewportFit(stores, box, stores.session.getState().viewport.pxPerMm)
}

/** Shows the whole of a box with some ground about it, at most at `maxPxPerMm`. */
export function viewportFit(stores: Stores, box: Box, maxPxPerMm = 4): void {
  const { width, height } = canvasSize()
  const wide = Math.max(box.maxX - box.minX, 1)
  const high = Math.max(box.maxY - box.minY, 1)
  const pxPerMm = Math.min(maxPxPerMm, (width * 0.86) / wide, (height * 0.86) / high)
  stores.session.getState().setViewport({ centre: { x: (box.minX + box.maxX) / 2, y: (box.minY + box.maxY) / 2 }, pxPerMm })
}

/** Puts a point in the middle, near enough to see ties there. */
export function viewportCentre(stores: Stores, point: Point): void {
  const { pxPerMm } = stores.session.getState().viewport
  stores.session.getState().setViewport({ centre: { x: point.x, y: point.y }, pxPerMm: Math.max(pxPerMm, 0.6) })
}
