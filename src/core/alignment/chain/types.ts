import type { CurveElement, Pose } from '../../geom/types.ts'
import type { Corner, FreeEnd } from '../../plan/types.ts'

/** An element of a line that was drawn elsewhere, with where it says that it starts. */
export interface ChainElement extends CurveElement {
  readonly start: Pose
}

/** A track by its PIs, as far as its line goes; what it is called and its class are for others to say. */
export interface ChainTrack {
  readonly start: FreeEnd
  readonly corners: readonly Corner[]
  readonly end: FreeEnd | { readonly kind: 'closed' }
}

/** Elements are counted from 0. */
export type ChainProblem =
  | { readonly kind: 'empty' }
  | { readonly kind: 'notFinite'; readonly element: number }
  /** It starts elsewhere than where the one before it ends: so far off, or turned by so much. */
  | { readonly kind: 'broken'; readonly element: number; readonly gapMm: number; readonly turnRad: number }
  /** Its curvature begins or ends with a jump, without an arc that could be given a radius. */
  | { readonly kind: 'spiralWithoutArc'; readonly element: number }

export type ChainResult = { readonly ok: true; readonly track: ChainTrack } | { readonly ok: false; readonly problem: ChainProblem }
