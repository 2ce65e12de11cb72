import type { Point } from '../../core/geom/index.ts'

/** A closed surface of triangles, mm: three numbers a corner, three corners a triangle, anticlockwise as seen from outside. */
export interface Mesh {
  readonly corners: Float32Array
  readonly triangles: Uint32Array
}

/** One piece in plastic, in the corner of the bed. */
export interface SolidPiece {
  readonly number: number
  readonly mesh: Mesh
  readonly volumeMm3: number
  readonly sizeMm: readonly [number, number, number]
  /** Outlines of the flat piece, holes among them, as it lies on the bed; null: it is not flat. */
  readonly outlines: readonly (readonly Point[])[] | null
}
