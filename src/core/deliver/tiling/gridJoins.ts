import { pointRotate } from '../../geom/index.ts'
import type { Box, Point } from '../../geom/types.ts'
import { freeSpaceTaken, freeSpaceTakeArea, type FreeSpace } from '../freeSpace.ts'
import { cellOrigin, type GridCell, type SheetGrid } from '../grid.ts'
import type { SheetJoin } from '../join.ts'
import { squareRound } from './joins.ts'

/** Where a cross may stand along a join, the best first: far apart, and not in the corners, which four sheets share. */
const CROSS_PARTS = [0.14, 0.17, 0.2, 0.23, 0.26, 0.29, 0.32, 0.11, 0.08, 0.35, 0.38, 0.05, 0.065, 0.095, 0.125, 0.155, 0.41, 0.44]

/** Box of a cell's window in the turned frame. */
function cellWindow(grid: SheetGrid, cell: Pick<GridCell, 'row' | 'column'>): Box {
  const at = cellOrigin(grid, cell)
  return { minX: at.x, minY: at.y, maxX: at.x + grid.windowWidthMm, maxY: at.y + grid.windowHeightMm }
}

/**
 * Joins of all neighbouring sheets of a grid. Two sheets that only share a corner are joined when no third one links them.
 * The crosses stand on places that are free of track where there are such.
 */
export function gridJoins(grid: SheetGrid, space: FreeSpace): readonly SheetJoin[] {
  const byPlace = new Map(grid.cells.map((cell) => [`${cell.row},${cell.column}`, cell]))
  const at = (row: number, column: number): GridCell | undefined => byPlace.get(`${row},${column}`)
  const joins: SheetJoin[] = []
  for (const cell of grid.cells) {
    const { row, column } = cell
    const right = at(row, column + 1)
    const below = at(row - 1, column)
    if (right) joins.push(joinOf(grid, cell, right, space))
    if (below) joins.push(joinOf(grid, cell, below, space))
    for (const side of [-1, 1]) {
      const diagonal = at(row - 1, column + side)
      if (diagonal && !below && !at(row, column + side)) joins.push(joinOf(grid, cell, diagonal, space))
    }
  }
  return joins
}

function joinOf(grid: SheetGrid, a: GridCell, b: GridCell, space: FreeSpace): SheetJoin {
  const { angleRad } = grid
  const plan = (p: Point): Point => pointRotate(p, angleRad)
  const [wa, wb] = [cellWindow(grid, a), cellWindow(grid, b)]
  const strip = {
    minX: Math.max(wa.minX, wb.minX),
    minY: Math.max(wa.minY, wb.minY),
    maxX: Math.min(wa.maxX, wb.maxX),
    maxY: Math.min(wa.maxY, wb.maxY),
  }
  const [x, y] = [(strip.minX + strip.maxX) / 2, (strip.minY + strip.maxY) / 2]
  const [width, height] = [strip.maxX - strip.minX, strip.maxY - strip.minY]
  const names = { a: a.name, b: b.name, angleRad }
  if (a.row !== b.row && a.column !== b.column) {
    // The diagonal of the shared corner that runs across the line from sheet to sheet.
    const dx = (width / 2 - 1) * Math.sign(b.column - a.column)
    const dy = height / 2 - 1
    return { ...names, crosses: [plan({ x: x - dx, y: y - dy }), plan({ x: x + dx, y: y + dy })], trim: null }
  }
  const isSide = a.row === b.row
  const along = (t: number): Point => plan(isSide ? { x, y: strip.minY + t * height } : { x: strip.minX + t * width, y })
  const free = (parts: readonly number[]): Point => {
    const places = parts.map(along).map((p) => ({ p, taken: freeSpaceTaken(space, squareRound(p, angleRad)) }))
    const best = places.find(({ taken }) => taken === 0) ?? places.toSorted((m, n) => m.taken - n.taken)[0]
    const p = best?.p ?? along(0.5)
    freeSpaceTakeArea(space, squareRound(p, angleRad))
    return p
  }
  return { ...names, crosses: [free(CROSS_PARTS), free(CROSS_PARTS.map((t) => 1 - t))], trim: [along(0), along(1)] }
}
