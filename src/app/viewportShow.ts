import type { Box } from '../core/geom/types.ts'
import { clearOfEdges, planOfScreen, screenOfPlan, viewFitting } from './canvas/viewport.ts'
import type { View } from './canvas/viewport.ts'
import type { Stores } from './context.ts'
import { planBoxNow } from './planBox.ts'

/** What the canvas shows, as far as the page can see it. */
function viewShown(stores: Stores): View {
  const rect = document.querySelector('.table')?.getBoundingClientRect()
  const size = rect === undefined || rect.width === 0 ? { width: 900, height: 600 } : { width: rect.width, height: rect.height }
  return { ...stores.session.getState().viewport, size }
}

/** Brings a box into view: leaves the view alone when it is there already, else centres it and zooms out as far as needed. */
export function viewportShow(stores: Stores, box: Box | null): void {
  if (box === null) return
  const view = viewShown(stores)
  const { left, top, width, height } = clearOfEdges(view.size)
  const [low, high] = [planOfScreen(view, { left, top: top + height }), planOfScreen(view, { left: left + width, top })]
  if (box.minX >= low.x && box.maxX <= high.x && box.minY >= low.y && box.maxY <= high.y) return
  viewportFit(stores, box, view.pxPerMm)
}

/** Shows the whole of a box clear of the edges of the canvas, at most at `mostPxPerMm`. */
export function viewportFit(stores: Stores, box: Box, mostPxPerMm = 4): void {
  const { centre, pxPerMm } = viewFitting(viewShown(stores), box, mostPxPerMm)
  stores.session.getState().setViewport({ centre, pxPerMm })
}

/**
 * Keeps what is drawn in sight: what a tool has made is shown when the tool is laid down, and where all of the plan can be seen it is
 * pushed down from under the choices of a tool that is taken up. Gives what ends that.
 */
export function drawnKeepInSight(stores: Stores): () => void {
  let { selection } = stores.session.getState()
  return stores.session.subscribe((now, before) => {
    if (before.tool === now.tool) return
    if (before.tool === 'select') {
      selection = now.selection
      pushFromUnderStrip(stores)
    } else if (now.tool === 'select' && now.selection.kind === 'record' && now.selection !== selection) {
      const { table, id } = now.selection
      void import('./places.ts').then(({ planBoxOfRecord }) => viewportShow(stores, planBoxOfRecord(stores, table, id)))
    }
  })
}

function pushFromUnderStrip(stores: Stores): void {
  const box = planBoxNow(stores)
  if (box === null) return
  const view = viewShown(stores)
  const clear = clearOfEdges(view.size)
  const [upper, lower] = [screenOfPlan(view, { x: box.minX, y: box.maxY }).top, screenOfPlan(view, { x: box.maxX, y: box.minY }).top]
  const isWhole = lower - upper <= clear.height + 0.5 && lower <= view.size.height
  if (upper >= clear.top || !isWhole) return
  const { x, y } = view.centre
  stores.session.getState().setViewport({ centre: { x, y: y + (clear.top - upper) / view.pxPerMm }, pxPerMm: view.pxPerMm })
}
