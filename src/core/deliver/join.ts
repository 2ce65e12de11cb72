import { boxOfPoints, pointRotate } from '../geom/index.ts'
import type { Box, Point } from '../geom/types.ts'
import { freeSpacePlace, freeSpaceTaken, freeSpaceTakeArea, type FreeSpace, type Place } from './freeSpace.ts'
import { cellOrigin, type GridCell, type SheetGrid } from './grid.ts'
import { planLine, type PlanItem } from './planItem.ts'
import { textItemCorners, textUpright, type PlanText } from './text.ts'
import type { LaidItem } from './laidItem.ts'

/** Two sheets that overlap: what both show so that they can be laid together. Turned frame, plan mm. */
export interface SheetJoin {
  readonly a: string
  readonly b: string
  /** Places of the match crosses, the same two points for both sheets. */
  readonly crosses: readonly [Point, Point]
  /** Line to trim one of them along; null where they only share a corner. */
  readonly trim: readonly [Point, Point] | null
}

const CROSS_ARM_MM = 4
/** Where a cross may stand along a join, the best first: far apart, and not in the corners, which four sheets share. */
const CROSS_PARTS = [0.14, 0.17, 0.2, 0.23, 0.26, 0.29, 0.32, 0.11, 0.08, 0.35, 0.38]
/** Where a neighbour's name may stand along the join. */
const NAME_PARTS = [0.5, 0.4, 0.6, 0.3, 0.7, 0.22, 0.78, 0.45, 0.55, 0.35, 0.65, 0.26, 0.74, 0.16, 0.84]

/** Box of a cell's window in the turned frame. */
export function cellWindow(grid: SheetGrid, cell: Pick<GridCell, 'row' | 'column'>): Box {
  const at = cellOrigin(grid, cell)
  return { minX: at.x, minY: at.y, maxX: at.x + grid.windowWidthMm, maxY: at.y + grid.windowHeightMm }
}

/**
 * Joins of all neighbouring sheets. Two sheets that only share a corner are joined when no third one links them.
 * The crosses stand on places that are free of track where there are such.
 */
export function sheetJoins(grid: SheetGrid, space: FreeSpace): readonly SheetJoin[] {
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
  const [wa, wb] = [cellWindow(grid, a), cellWindow(grid, b)]
  const strip = {
    minX: Math.max(wa.minX, wb.minX),
    minY: Math.max(wa.minY, wb.minY),
    maxX: Math.min(wa.maxX, wb.maxX),
    maxY: Math.min(wa.maxY, wb.maxY),
  }
  const [x, y] = [(strip.minX + strip.maxX) / 2, (strip.minY + strip.maxY) / 2]
  const [width, height] = [strip.maxX - strip.minX, strip.maxY - strip.minY]
  if (a.row !== b.row && a.column !== b.column) {
    // The diagonal of the shared corner that runs across the line from sheet to sheet.
    const dx = (width / 2 - 1) * Math.sign(b.column - a.column)
    const dy = height / 2 - 1
    return {
      a: a.name,
      b: b.name,
      crosses: [
        { x: x - dx, y: y - dy },
        { x: x + dx, y: y + dy },
      ],
      trim: null,
    }
  }
  const isSide = a.row === b.row
  const along = (t: number): Point => (isSide ? { x, y: strip.minY + t * height } : { x: strip.minX + t * width, y })
  const free = (parts: readonly number[]): Point => {
    const places = parts.map(along).map((p) => ({ p, taken: freeSpaceTaken(space, squareInPlan(grid, p)) }))
    const best = places.find(({ taken }) => taken === 0) ?? places.toSorted((m, n) => m.taken - n.taken)[0]
    const p = best?.p ?? along(0.5)
    freeSpaceTakeArea(space, squareInPlan(grid, p))
    return p
  }
  return {
    a: a.name,
    b: b.name,
    crosses: [free(CROSS_PARTS), free(CROSS_PARTS.map((t) => 1 - t))],
    trim: [along(0), along(1)],
  }
}

function squareInPlan(grid: SheetGrid, p: Point): readonly Point[] {
  const r = CROSS_ARM_MM
  return [
    { x: p.x - r, y: p.y - r },
    { x: p.x + r, y: p.y - r },
    { x: p.x + r, y: p.y + r },
    { x: p.x - r, y: p.y + r },
  ].map((q) => pointRotate(q, grid.angleRad))
}

/** Crosses and trim line of a join, as both sheets show them. */
export function joinItems(join: SheetJoin): readonly PlanItem[] {
  const items: PlanItem[] = join.trim ? [planLine('sheet', 'trim', join.trim[0], join.trim[1])] : []
  for (const { x, y } of join.crosses) {
    items.push(planLine('sheet', 'match', { x: x - CROSS_ARM_MM, y }, { x: x + CROSS_ARM_MM, y }))
    items.push(planLine('sheet', 'match', { x, y: y - CROSS_ARM_MM }, { x, y: y + CROSS_ARM_MM }))
  }
  return items
}

/** The neighbour's name with an arrow to it, inside of the trim line, where there is room. */
export function neighbourText(grid: SheetGrid, cell: GridCell, other: GridCell, space: FreeSpace): LaidItem | null {
  const window = cellWindow(grid, cell)
  const half = grid.overlapMm / 2
  const [dx, dy] = [other.column - cell.column, other.row - cell.row]
  const text = dx > 0 ? `${other.name} →` : dx < 0 ? `← ${other.name}` : dy > 0 ? `↑ ${other.name}` : `↓ ${other.name}`
  const inFrame = (t: number): Place => {
    const y = dy > 0 ? window.maxY - half - 4 : dy < 0 ? window.minY + half + 4 : window.minY + t * grid.windowHeightMm
    const x = dx > 0 ? window.maxX - half - 2 : dx < 0 ? window.minX + half + 2 : window.minX + t * grid.windowWidthMm
    return { middle: { x, y }, angleRad: 0, anchor: dx > 0 ? 'end' : dx < 0 ? 'start' : 'middle' }
  }
  const places = (dx !== 0 && dy !== 0 ? [0.5] : NAME_PARTS).map(inFrame)
  const placed = freeSpacePlace(
    space,
    { kind: 'text', layer: 'sheet', text, sizeMm: 5, weight: 'bold', grey: 0 },
    places.map((place) => ({ ...place, middle: pointRotate(place.middle, grid.angleRad), angleRad: grid.angleRad })),
    'least-taken',
  )
  return placed && laidText(placed, grid.angleRad)
}

function laidText(text: PlanText, angleRad: number): LaidItem | null {
  const item = textUpright(text, pointRotate(text.middle, -angleRad), angleRad)
  const box = boxOfPoints(textItemCorners(item, 0))
  return box && { kind: 'text', text: item, box }
}
