import type { Point } from '../../core/geom/index.ts'

/** An outline or a line of a drawing, in the drawing's own unit, y up. */
export interface DrawnOutline {
  readonly layer: string
  readonly points: readonly Point[]
  /** null: a list of corners, which says neither; it closes where it bounds something. */
  readonly isClosed: boolean | null
}

export type DrawingKind = 'DXF' | 'SVG' | 'points'

export type DrawingProblem =
  | { readonly kind: 'notDrawing'; readonly expected: DrawingKind; readonly says: string }
  | { readonly kind: 'noOutlines'; readonly expected: DrawingKind }
  /** Of a list of points: so many measures have no unit, and others have one. */
  | { readonly kind: 'mixedUnits' }

export type DrawingResult =
  | {
      readonly ok: true
      /** mm in a unit of the drawing; null: it does not say. */
      readonly unitMm: number | null
      readonly outlines: readonly DrawnOutline[]
      /** What is in the drawing and was left out, by kind. */
      readonly leftOut: ReadonlyMap<string, number>
    }
  | { readonly ok: false; readonly problem: DrawingProblem }
