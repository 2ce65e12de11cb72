import { boxOfPoints, boxUnion, pointRotate } from '../geom/index.ts'
import type { Box, Point } from '../geom/types.ts'
import { cellWindow } from './join.ts'
import type { SheetGrid } from './grid.ts'
import { itemsOnPage, type LaidItem } from './laidItem.ts'
import type { PageFrame } from './paper.ts'
import { titleBlock } from './titleBlock.ts'
import type { TitleText } from './titleTexts.ts'
import type { DrawItem, Sheet, SheetOptions } from './types.ts'

/** Scales of an index sheet, 1:n. */
const REDUCTIONS = [2, 2.5, 4, 5, 8, 10, 12, 15, 20, 25, 30, 40, 50, 60, 80, 100, 150, 200, 300, 500, 1000, 2000, 5000]

/**
 * A small map of all sheets with their names: how they lie together. Drawn with centrelines and benchwork only. Not for
 * measuring, and it says so.
 */
export function indexSheet(
  grid: SheetGrid,
  laid: readonly LaidItem[],
  frame: PageFrame,
  options: SheetOptions,
  text: Omit<TitleText, 'sheetName' | 'scale'>,
): Sheet {
  const windows = grid.cells.map((cell) => ({ cell, box: cellWindow(grid, cell) }))
  const all =
    windows.reduce<Box | null>((box, next) => (box ? boxUnion(box, next.box) : next.box), null) ?? cellWindow(grid, { row: 0, column: 0 })
  const { window } = frame
  const rim = 6
  const fits = (n: number): boolean =>
    (all.maxX - all.minX) / n <= window.maxX - window.minX - 2 * rim && (all.maxY - all.minY) / n <= window.maxY - window.minY - 2 * rim
  const reduction = REDUCTIONS.find(fits) ?? 10000
  const scale = 1 / reduction
  const middle = { x: (all.minX + all.maxX) / 2, y: (all.minY + all.maxY) / 2 }
  const pageOrigin = { x: (window.minX + window.maxX) / 2, y: (window.minY + window.maxY) / 2 }
  const place = (p: Point): Point => ({ x: (p.x - middle.x) * scale + pageOrigin.x, y: (p.y - middle.y) * scale + pageOrigin.y })
  const seen = boxOfPoints([
    { x: middle.x - (pageOrigin.x - window.minX) / scale, y: middle.y - (pageOrigin.y - window.minY) / scale },
    { x: middle.x + (window.maxX - pageOrigin.x) / scale, y: middle.y + (window.maxY - pageOrigin.y) / scale },
  ])
  const items: DrawItem[] = []
  if (seen) {
    for (const item of laid) {
      if (item.kind === 'stroke' && (item.role === 'centreline' || item.role === 'benchwork')) {
        // Chain dashes would outrun a small map; a plain line reads better.
        const onPage = itemsOnPage(item, seen, place)
        items.push(
          ...onPage.map((drawn): DrawItem => (drawn.kind === 'stroke' && drawn.role === 'centreline' ? { ...drawn, role: 'mark' } : drawn)),
        )
      }
    }
  }
  for (const { cell, box } of windows) {
    const [from, to] = [place({ x: box.minX, y: box.minY }), place({ x: box.maxX, y: box.maxY })]
    items.push({
      kind: 'stroke',
      layer: 'sheet',
      role: 'frame',
      start: from,
      segments: [
        { kind: 'line', to: { x: to.x, y: from.y } },
        { kind: 'line', to },
        { kind: 'line', to: { x: from.x, y: to.y } },
      ],
      isClosed: true,
      fill: null,
    })
    const sizeMm = Math.max(2.4, Math.min(6, (to.y - from.y - grid.overlapMm * scale) / 3))
    items.push({
      kind: 'text',
      layer: 'sheet',
      // Clear of the strips that it shares with the neighbours above and to the left.
      at: { x: from.x + grid.overlapMm * scale + 0.25 * sizeMm + 0.5, y: to.y - grid.overlapMm * scale - sizeMm - 0.6 },
      text: cell.name,
      sizeMm,
      angleRad: 0,
      anchor: 'start',
      weight: 'bold',
      grey: 0,
    })
  }
  items.push(...titleBlock(frame, options, { ...text, sheetName: 'Index sheet', scale: `1:${reduction}, not for measuring` }))
  return {
    kind: 'index',
    name: 'Index',
    title: text.title,
    paper: frame.paper,
    window,
    toPage: { planOrigin: pointRotate(middle, grid.angleRad), angleRad: grid.angleRad, pageOrigin, scaleX: scale, scaleY: scale },
    items,
  }
}
