import { pointRotate } from '../../geom/index.ts'
import { cellOrigin, type SheetGrid } from '../grid.ts'
import type { Tiling } from './types.ts'

/** The windows of a grid as tiles of the plan, in reading order. Its joins are those of its cells. */
export function gridTiling(grid: SheetGrid): Tiling {
  return {
    kind: 'grid',
    window: { widthMm: grid.windowWidthMm, heightMm: grid.windowHeightMm, overlapMm: grid.overlapMm },
    tiles: grid.cells.map((cell) => ({
      name: cell.name,
      origin: pointRotate(cellOrigin(grid, cell), grid.angleRad),
      angleRad: grid.angleRad,
    })),
    seams: [],
  }
}
