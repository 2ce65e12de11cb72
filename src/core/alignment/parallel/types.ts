import type { Point } from '../../geom/types.ts'
import type { Alignment, AlignmentProblem, Traverse } from '../types.ts'

export type SolvedAlignment = Extract<Alignment, { readonly ok: true }>

export interface ParallelRequest {
  readonly alignment: SolvedAlignment
  /**
   * Part of the line to run beside. An end inside an easement moves to where that easement meets its tangent; inside a curve of
   * several radii, to the tangent before or behind the curve. On a loop `toMm` may run past station zero, up to once round.
   */
  readonly stretch: { readonly kind: 'whole' } | { readonly kind: 'between'; readonly fromMm: number; readonly toMm: number }
  /** Centre to centre beside tangents, + left. */
  readonly offsetMm: number
  /** The same beside curves, on the same side: wider, where cars swing out. */
  readonly curveOffsetMm: number
  /** Minimum radius of the class of the new line. */
  readonly minRadiusMm: number
}

/** Corners are counted as in the alignment that is followed. */
export type ParallelProblem =
  | { readonly kind: 'notFinite'; readonly where: string }
  /** Both offsets must lie on one side, and neither on the line itself. */
  | { readonly kind: 'offsets'; readonly offsetMm: number; readonly curveOffsetMm: number }
  /** Nothing is left of the stretch; lengthMm: of the whole line. */
  | { readonly kind: 'stretch'; readonly fromMm: number; readonly toMm: number; readonly lengthMm: number }
  /** Inside of this curve there is no room: the offset reaches its centre. */
  | { readonly kind: 'radiusCollapses'; readonly corner: number; readonly at: Point; readonly radiusMm: number }
  /** Outside of a curve, centres widen by no more than its easement shifts it. mostMm: the widest offset beside it. */
  | { readonly kind: 'wideningTooGreat'; readonly corner: number; readonly at: Point; readonly mostMm: number }
  /** The easements beside this curve of several radii leave nothing of an arc, counted from 0. */
  | { readonly kind: 'noArcLeft'; readonly corner: number; readonly at: Point; readonly arc: number; readonly shortByMm: number }
  /** The new line's own: its corners and sides are counted in the new line. */
  | { readonly kind: 'line'; readonly problem: AlignmentProblem }

/** Something to know of a parallel that was made all the same. */
export type ParallelRemark =
  | { readonly kind: 'belowMinimum'; readonly corner: number; readonly at: Point; readonly radiusMm: number; readonly limitMm: number }
  /** The curve has so little arc that the inner easements eat it up: its parallel is easement-only, with the wanted centres at its middle. */
  | { readonly kind: 'easementOnly'; readonly corner: number; readonly at: Point }

/** Distance from the line to its parallel at a station of the line. */
export interface SpacingAt {
  readonly spacingMm: number
  readonly stationMm: number
}

export type ParallelAnswer =
  | {
      readonly ok: true
      readonly traverse: Traverse
      readonly alignment: SolvedAlignment
      /** The stretch as used. */
      readonly fromMm: number
      readonly toMm: number
      /** As measured between the two lines. */
      readonly spacing: { readonly least: SpacingAt; readonly most: SpacingAt }
      readonly remarks: readonly ParallelRemark[]
    }
  /** traverse: as far as it could be made, for drawing. */
  | { readonly ok: false; readonly problems: readonly ParallelProblem[]; readonly traverse: Traverse | null }
