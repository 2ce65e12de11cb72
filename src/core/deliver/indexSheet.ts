import { boxOfPoints, pointRotate } from '../geom/index.ts'
import type { Box, Point } from '../geom/types.ts'
import type { SheetJoin } from './join.ts'
import { sheetLabels } from './indexLabels.ts'
import { itemsOnPage, laidItems } from './laidItem.ts'
import type { PageFrame } from './paper.ts'
import type { PlanItem } from './planItem.ts'
import { textWidthMm, wordsAbove } from './text.ts'
import { layingOrder, layingWords } from './tiling/order.ts'
import { tileCorners } from './tiling/tile.ts'
import type { Tiling } from './tiling/types.ts'
import { titleBlock } from './titleBlock.ts'
import type { TitleText } from './titleTexts.ts'
import type { DrawItem, Sheet, SheetOptions, TextItem } from './types.ts'

/** Scales of an index sheet, 1:n. */
const REDUCTIONS = [2, 2.5, 4, 5, 8, 10, 12, 15, 20, 25, 30, 40, 50, 60, 80, 100, 150, 200, 300, 500, 1000, 2000, 5000]
const RIM_MM = 6

/** What it is called at its foot. */
export const INDEX_NAME = 'Index sheet'

export function indexScale(reduction: number): string {
  return `1:${reduction}, not for measuring`
}

/**
 * A small map of all sheets with their names, and in which order they are laid together. Drawn with centrelines and
 * benchwork only. Not for measuring, and it says so.
 */
export function indexSheet(
  tiling: Tiling,
  joins: readonly SheetJoin[],
  items: readonly PlanItem[],
  frame: PageFrame,
  options: SheetOptions,
  text: Omit<TitleText, 'sheetName' | 'scale'>,
): Sheet {
  const { window } = frame
  const order = orderTexts(
    layingOrder(
      tiling.tiles.map(({ name }) => name),
      joins,
    ).map(layingWords),
    window,
  )
  const room = { ...window, minY: window.minY + order.heightMm }
  const angleRad = angleOf(tiling, room)
  const outlines = tiling.tiles.map((tile) => ({
    tile,
    corners: tileCorners(tile, tiling.window).map((p) => pointRotate(p, -angleRad)),
  }))
  const all = boxOfPoints(outlines.flatMap(({ corners }) => corners)) ?? { minX: 0, minY: 0, maxX: 0, maxY: 0 }
  const reduction = REDUCTIONS.find((n) => fits(all, room, n)) ?? 10000
  const scale = 1 / reduction
  const middle = { x: (all.minX + all.maxX) / 2, y: (all.minY + all.maxY) / 2 }
  const pageOrigin = { x: (room.minX + room.maxX) / 2, y: (room.minY + room.maxY) / 2 }
  const place = (p: Point): Point => ({ x: (p.x - middle.x) * scale + pageOrigin.x, y: (p.y - middle.y) * scale + pageOrigin.y })
  const seen = {
    minX: middle.x - (pageOrigin.x - room.minX) / scale,
    minY: middle.y - (pageOrigin.y - room.minY) / scale,
    maxX: middle.x + (room.maxX - pageOrigin.x) / scale,
    maxY: middle.y + (room.maxY - pageOrigin.y) / scale,
  }
  const mapped = items.filter((item) => item.kind === 'stroke' && (item.role === 'centreline' || item.role === 'benchwork'))
  const lines = laidItems(mapped, angleRad).flatMap((item) => itemsOnPage(item, seen, place).map(plain))
  const sheets = outlines.map(({ tile, corners }) => ({ name: tile.name, corners: corners.map(place) }))
  return {
    kind: 'index',
    name: 'Index',
    title: text.title,
    paper: frame.paper,
    window,
    toPage: { planOrigin: pointRotate(middle, angleRad), angleRad, pageOrigin, scaleX: scale, scaleY: scale },
    items: [
      ...wordsAbove([
        ...lines,
        ...sheets.flatMap(({ corners }) => outlineOf(corners)),
        ...sheetLabels(sheets, lines, labelSize(tiling, scale)),
      ]),
      ...order.items,
      ...titleBlock(frame, options, { ...text, sheetName: INDEX_NAME, scale: indexScale(reduction), isMap: true }),
    ],
  }
}

function fits(all: Box, room: Box, n: number): boolean {
  return (all.maxX - all.minX) / n <= room.maxX - room.minX - 2 * RIM_MM && (all.maxY - all.minY) / n <= room.maxY - room.minY - 2 * RIM_MM
}

/** A grid stands upright; sheets along a line stand as the plan does, or turned by a quarter where that makes the map larger. */
function angleOf(tiling: Tiling, room: Box): number {
  const [first] = tiling.tiles
  if (tiling.kind === 'grid') return first?.angleRad ?? 0
  const largest = (angleRad: number): number => {
    const all = boxOfPoints(tiling.tiles.flatMap((tile) => tileCorners(tile, tiling.window).map((p) => pointRotate(p, -angleRad))))
    return all ? REDUCTIONS.findIndex((n) => fits(all, room, n)) : 0
  }
  return largest(Math.PI / 2) < largest(0) ? Math.PI / 2 : 0
}

/** Chain dashes would outrun a small map; a plain line reads better. */
function plain(drawn: DrawItem): DrawItem {
  return drawn.kind === 'stroke' && drawn.role === 'centreline' ? { ...drawn, role: 'mark' } : drawn
}

/** The edge of a sheet on the map. */
function outlineOf([start, ...rest]: readonly Point[]): readonly DrawItem[] {
  if (!start) return []
  const segments = rest.map((to) => ({ kind: 'line', to }) as const)
  return [{ kind: 'stroke', layer: 'sheet', role: 'frame', start, segments, isClosed: true, fill: null }]
}

function labelSize({ window: { widthMm, heightMm, overlapMm } }: Tiling, scale: number): number {
  return Math.max(2.4, Math.min(6, ((Math.min(widthMm, heightMm) - overlapMm) * scale) / 3))
}

const ORDER_HEAD = 'Lay them together in this order, cross on cross of the same letter:'
const ORDER_SIZE_MM = 2.6
const ORDER_LINE_MM = 3.5

/** The order in columns at the foot of the window, read downwards. */
function orderTexts(steps: readonly string[], window: Box): { readonly items: readonly TextItem[]; readonly heightMm: number } {
  const numbered = steps.map((step, i) => `${i + 1}. ${step}`)
  const wideMm = Math.max(...numbered.map((step) => textWidthMm(step, ORDER_SIZE_MM))) + 4
  const columns = Math.max(1, Math.floor((window.maxX - window.minX - 4) / wideMm))
  const rows = Math.ceil(numbered.length / columns)
  const top = window.minY + rows * ORDER_LINE_MM + 2
  const at = (text: string, x: number, y: number, weight: TextItem['weight']): TextItem => ({
    kind: 'text',
    layer: 'sheet',
    at: { x, y },
    text,
    sizeMm: ORDER_SIZE_MM,
    angleRad: 0,
    anchor: 'start',
    weight,
    grey: 0,
    isOnPaper: true,
  })
  return {
    heightMm: (rows + 1) * ORDER_LINE_MM + 3,
    items: [
      at(ORDER_HEAD, window.minX + 3, top, 'bold'),
      ...numbered.map((step, i) =>
        at(step, window.minX + 3 + Math.floor(i / rows) * wideMm, top - ((i % rows) + 1) * ORDER_LINE_MM, 'regular'),
      ),
    ],
  }
}
