import type { Point } from '../../geom/types.ts'

/** Size of the printed part of a page and what neighbours share, in plan mm. */
export interface TileWindow {
  readonly widthMm: number
  readonly heightMm: number
  readonly overlapMm: number
}

/** Where one sheet lies on the plan. */
export interface Tile {
  readonly name: string
  /** Lower left corner of the window in the plan. */
  readonly origin: Point
  /** Direction of the plan that runs across the page, rad. */
  readonly angleRad: number
}

/** Two sheets that are laid together, and where: the line goes from one to the other at `at` along `angleRad`. */
export interface TileSeam {
  readonly a: string
  readonly b: string
  readonly at: Point
  readonly angleRad: number
}

/** All sheets of a subject. Seams are those of neighbours that share track (along the line) or an edge (in a grid). */
export interface Tiling {
  readonly kind: 'grid' | 'line'
  readonly window: TileWindow
  readonly tiles: readonly Tile[]
  readonly seams: readonly TileSeam[]
}

/** What stands side by side at one station of a line: all of it goes on one sheet. */
export interface Rib {
  readonly stationMm: number
  readonly points: readonly Point[]
}

/** A line as ribs in order of station; sheets may change anywhere between two of them. */
export interface Strand {
  readonly ribs: readonly Rib[]
  /** absent or null: open. Else the length of the way round. */
  readonly loopMm?: number | null
}
