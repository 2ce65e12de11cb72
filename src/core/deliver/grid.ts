import type { Point } from '../geom/types.ts'

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

/** Shifts as parts of a step; -1 stands for content in the middle of as few windows as can be. */
const SHIFTS = [-1, 0, 1 / 5, 2 / 5, 3 / 5, 4 / 5] as const
type Shift = (typeof SHIFTS)[number]

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
  let best: { readonly angleRad: number; readonly across: Shift; readonly up: Shift; readonly count: number } | null = null
  for (const angleRad of anglesRad) {
    // None takes fewer than one.
    if (best?.count === 1) break
    const [xs, ys] = turned(few, angleRad)
    // Which cell owns a point hangs on one shift across and on one up, never on both.
    const [columns, rows] = [axis(xs, window.widthMm, window.overlapMm), axis(ys, window.heightMm, window.overlapMm)]
    const ups = SHIFTS.map((up) => ({ up, owners: rows(up).owners }))
    for (const across of SHIFTS) {
      const { owners } = columns(across)
      for (const { up, owners: rowOf } of ups) {
        const count: number = cellsHeld(rowOf, owners, best?.count).size
        if (best === null || count < best.count) best = { angleRad, across, up, count }
      }
    }
  }
  const { angleRad, across, up } = best ?? { angleRad: 0, across: 0, up: 0 }
  const [xs, ys] = turned(content, angleRad)
  const columns = axis(xs, window.widthMm, window.overlapMm)(across)
  const rows = axis(ys, window.heightMm, window.overlapMm)(up)
  return {
    angleRad,
    origin: { x: columns.origin, y: rows.origin },
    windowWidthMm: window.widthMm,
    windowHeightMm: window.heightMm,
    overlapMm: window.overlapMm,
    cells: namedCells(cellsHeld(rows.owners, columns.owners)),
  }
}

/** Where the points lie across and up when the plan is turned by -angle. */
function turned(points: readonly Point[], angleRad: number): readonly [readonly number[], readonly number[]] {
  const [cos, sin] = [Math.cos(-angleRad), Math.sin(-angleRad)]
  return [points.map(({ x, y }) => x * cos - y * sin), points.map(({ x, y }) => x * sin + y * cos)]
}

const ROW = 65536

function cellKey(row: number, column: number): number {
  return row * ROW + column
}

/** The cells that own points; not gone on with once they are as many as `enough`. */
function cellsHeld(rows: readonly number[], columns: readonly number[], enough = Infinity): ReadonlySet<number> {
  const cells = new Set<number>()
  let last = -1
  for (let i = 0; i < rows.length; i++) {
    const key = cellKey(rows[i] ?? 0, columns[i] ?? 0)
    // Points follow each other along the track: most lie where the last one lay.
    if (key === last) continue
    last = key
    cells.add(key)
    if (cells.size >= enough) break
  }
  return cells
}

/** One direction of the grid: where the first window starts and which cell owns each place. */
interface Axis {
  readonly origin: number
  readonly owners: readonly number[]
}

function axis(places: readonly number[], windowMm: number, overlapMm: number): (shift: Shift) => Axis {
  let [min, max] = [Infinity, -Infinity]
  for (const v of places) {
    min = Math.min(min, v)
    max = Math.max(max, v)
  }
  if (places.length === 0) [min, max] = [0, 0]
  const step = windowMm - overlapMm
  const fewest = Math.max(1, Math.ceil((max - min - overlapMm) / step - 1e-9))
  return (shift) => {
    const origin = shift < 0 ? (min + max) / 2 - (fewest * step + overlapMm) / 2 : min - shift * step
    const last = Math.max(1, Math.ceil((max - origin - overlapMm) / step - 1e-9)) - 1
    const first = origin + overlapMm / 2
    return { origin, owners: places.map((v) => Math.min(last, Math.max(0, Math.floor((v - first) / step)))) }
  }
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
