import { boxOfPoints, pointRotate } from '../geom/index.ts'
import type { Box, Point } from '../geom/types.ts'

/** A grid of windows over the plan and the cells of it that hold something. Lengths in plan mm. */
export interface SheetGrid {
  /** Direction of the plan that runs across the page, rad. */
  readonly angleRad: number
  /** Lower left corner of the first window, in the turned frame (plan turned by -angle). */
  readonly origin: Point
  readonly windowWidthMm: number
  readonly windowHeightMm: number
  readonly overlapMm: number
  /** Cells in reading order: rows from the top, columns from the left. row 0 is the lowest. */
  readonly cells: readonly GridCell[]
}

export interface GridCell {
  readonly row: number
  readonly column: number
  /** A1: row letter from the top, column number from the left, counted over the cells in use. */
  readonly name: string
}

/** Points looked at while turning and shifting the grid; the chosen grid is then filled with all of them. */
const SEARCH_POINTS = 2500
const SHIFTS = 5

interface Cover {
  readonly angleRad: number
  readonly origin: Point
  readonly cells: ReadonlySet<number>
}

/**
 * The grid with the fewest sheets among the angles and a few shifts; among equals the first angle, the content in the middle.
 *
 * Every content point lies in the cell that owns it, which is the window less half the overlap on sides with a neighbour.
 */
export function sheetGrid(
  content: readonly Point[],
  anglesRad: readonly number[],
  window: { readonly widthMm: number; readonly heightMm: number; readonly overlapMm: number },
): SheetGrid {
  const stride = Math.max(1, Math.floor(content.length / SEARCH_POINTS))
  const few = content.filter((_, i) => i % stride === 0)
  let best: { readonly angleRad: number; readonly shift: readonly [number, number]; readonly count: number } | null = null
  for (const angleRad of anglesRad) {
    // None takes fewer than one.
    if (best?.count === 1) break
    const turned = few.map((p) => pointRotate(p, -angleRad))
    const box = boxOfPoints(turned) ?? { minX: 0, minY: 0, maxX: 0, maxY: 0 }
    for (const shift of shifts()) {
      const { cells } = cover(turned, box, angleRad, shift, window)
      if (best === null || cells.size < best.count) best = { angleRad, shift, count: cells.size }
    }
  }
  const angleRad = best?.angleRad ?? 0
  const all = content.map((p) => pointRotate(p, -angleRad))
  const box = boxOfPoints(all) ?? { minX: 0, minY: 0, maxX: 0, maxY: 0 }
  const chosen = cover(all, box, angleRad, best?.shift ?? [0, 0], window)
  return {
    angleRad,
    origin: chosen.origin,
    windowWidthMm: window.widthMm,
    windowHeightMm: window.heightMm,
    overlapMm: window.overlapMm,
    cells: namedCells(chosen.cells),
  }
}

/** Shifts as parts of a step; -1 stands for content in the middle of as few windows as can be. */
function shifts(): readonly (readonly [number, number])[] {
  const parts = [-1, ...Array.from({ length: SHIFTS }, (_, i) => i / SHIFTS)]
  return parts.flatMap((x) => parts.map((y) => [x, y] as const))
}

const ROW = 65536

function cellKey(row: number, column: number): number {
  return row * ROW + column
}

function cover(
  turned: readonly Point[],
  { minX, minY, maxX, maxY }: Box,
  angleRad: number,
  shift: readonly [number, number],
  window: { readonly widthMm: number; readonly heightMm: number; readonly overlapMm: number },
): Cover {
  const across = axis(minX, maxX, window.widthMm, window.overlapMm, shift[0])
  const up = axis(minY, maxY, window.heightMm, window.overlapMm, shift[1])
  const cells = new Set<number>()
  for (const p of turned) cells.add(cellKey(up.cellOf(p.y), across.cellOf(p.x)))
  return { angleRad, origin: { x: across.origin, y: up.origin }, cells }
}

/** One direction of the grid: where the first window starts and which cell owns a place. */
function axis(
  min: number,
  max: number,
  windowMm: number,
  overlapMm: number,
  shift: number,
): { origin: number; cellOf: (v: number) => number } {
  const step = windowMm - overlapMm
  const fewest = Math.max(1, Math.ceil((max - min - overlapMm) / step - 1e-9))
  const origin = shift < 0 ? (min + max) / 2 - (fewest * step + overlapMm) / 2 : min - shift * step
  const last = Math.max(1, Math.ceil((max - origin - overlapMm) / step - 1e-9)) - 1
  const first = origin + overlapMm / 2
  return { origin, cellOf: (v) => Math.min(last, Math.max(0, Math.floor((v - first) / step))) }
}

function namedCells(keys: ReadonlySet<number>): readonly GridCell[] {
  const places = [...keys].map((key) => ({ row: Math.floor(key / ROW), column: key % ROW }))
  const rows = [...new Set(places.map((p) => p.row))].sort((a, b) => b - a)
  const columns = [...new Set(places.map((p) => p.column))].sort((a, b) => a - b)
  const rowOrder = new Map(rows.map((row, i) => [row, i]))
  const columnOrder = new Map(columns.map((column, i) => [column, i]))
  const order = (p: { row: number; column: number }): number => (rowOrder.get(p.row) ?? 0) * ROW + (columnOrder.get(p.column) ?? 0)
  return places
    .sort((a, b) => order(a) - order(b))
    .map(({ row, column }) => ({ row, column, name: `${rowName(rowOrder.get(row) ?? 0)}${(columnOrder.get(column) ?? 0) + 1}` }))
}

/** A to Z, then AA, AB, ... */
export function rowName(index: number): string {
  const letter = String.fromCharCode(65 + (index % 26))
  return index < 26 ? letter : rowName(Math.floor(index / 26) - 1) + letter
}

/** Lower left corner of a cell's window in the turned frame. */
export function cellOrigin(grid: SheetGrid, cell: { readonly row: number; readonly column: number }): Point {
  return {
    x: grid.origin.x + cell.column * (grid.windowWidthMm - grid.overlapMm),
    y: grid.origin.y + cell.row * (grid.windowHeightMm - grid.overlapMm),
  }
}
