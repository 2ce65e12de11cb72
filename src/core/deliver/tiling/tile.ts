import { boxOfPoints, pointRotate } from '../../geom/index.ts'
import type { Box, Point } from '../../geom/types.ts'
import type { Tile, TileWindow, Tiling } from './types.ts'

/** Corners of a tile's window in the plan, from the lower left of the page, anticlockwise. */
export function tileCorners(tile: Tile, { widthMm, heightMm }: TileWindow): readonly [Point, Point, Point, Point] {
  const at = (x: number, y: number): Point => {
    const turned = pointRotate({ x, y }, tile.angleRad)
    return { x: tile.origin.x + turned.x, y: tile.origin.y + turned.y }
  }
  return [at(0, 0), at(widthMm, 0), at(widthMm, heightMm), at(0, heightMm)]
}

export function tileCentre(tile: Tile, { widthMm, heightMm }: TileWindow): Point {
  const half = pointRotate({ x: widthMm / 2, y: heightMm / 2 }, tile.angleRad)
  return { x: tile.origin.x + half.x, y: tile.origin.y + half.y }
}

/** Box of the plan round a tile's window. */
export function tileBox(tile: Tile, window: TileWindow): Box {
  return boxOfPoints(tileCorners(tile, window)) ?? { minX: 0, minY: 0, maxX: 0, maxY: 0 }
}

/** A point of the plan in the frame of a tile: from the lower left corner of its window, mm of the plan. */
export function tileLocal(tile: Tile, p: Point): Point {
  return pointRotate({ x: p.x - tile.origin.x, y: p.y - tile.origin.y }, -tile.angleRad)
}

export function tilePlan(tile: Tile, local: Point): Point {
  const turned = pointRotate(local, tile.angleRad)
  return { x: turned.x + tile.origin.x, y: turned.y + tile.origin.y }
}

/** True when the window holds the point, its edge included. */
export function tileContains(tile: Tile, { widthMm, heightMm }: TileWindow, p: Point): boolean {
  const { x, y } = tileLocal(tile, p)
  return x >= -1e-9 && y >= -1e-9 && x <= widthMm + 1e-9 && y <= heightMm + 1e-9
}

/** True when one tile holds all of these points of the plan. */
export function tilingHolds({ tiles, window }: Tiling, points: readonly Point[]): boolean {
  const first = points[0]
  if (!first) return false
  return tiles.some((tile) => points.every((p) => tileContains(tile, window, p)))
}
