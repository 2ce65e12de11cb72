import type { Path, Point, Pose } from '../geom/types.ts'
import type { ArcTurn, Id } from '../plan/types.ts'

/** What is asked of one arc of a compound curve. */
export interface ArcRequest {
  readonly radiusMm: number
  readonly turn: ArcTurn
}

/** Arcs of one hand; each further one with the easement that leads into it from the arc before. */
export interface CompoundRequest {
  readonly first: ArcRequest
  readonly next: readonly (ArcRequest & { readonly easementMm: number })[]
}

/** What a corner is asked to do, all values resolved: no 'class' left. radiusMm null: easement-only. */
export interface CornerRequest {
  readonly deflectionRad: number
  readonly radiusMm: number | null | CompoundRequest
  readonly easementInMm: number
  readonly easementOutMm: number
}

/** One arc of a solved corner, with the easement that leads into it: from the tangent, or from the arc before. */
export interface ArcSolution {
  readonly easementMm: number
  readonly radiusMm: number
  readonly turnRad: number
  readonly lengthMm: number
}

/** A corner solved. Distances in mm; deflection signed, + left; all others >= 0. */
export interface CornerSolution {
  readonly deflectionRad: number
  /** Of the sharpest arc. */
  readonly radiusMm: number
  readonly easementInMm: number
  readonly easementOutMm: number
  readonly spiralAngleInRad: number
  readonly spiralAngleOutRad: number
  readonly shiftInMm: number
  readonly shiftOutMm: number
  readonly kInMm: number
  readonly kOutMm: number
  readonly tangentInMm: number
  readonly tangentOutMm: number
  readonly externalMm: number
  /** From SC to CS: all arcs and the easements between them. */
  readonly arcLengthMm: number
  readonly totalLengthMm: number
  /** One arc, without length where only easements are; several of a compound curve; none where the PI is straight. */
  readonly arcs: readonly ArcSolution[]
}

/** Where something on an alignment is: the index is that of the corner in the track, side i runs from corner i-1 to corner i. */
export type AlignmentProblem =
  | { readonly kind: 'notFinite'; readonly where: string }
  | { readonly kind: 'radiusNotPositive'; readonly corner: number; readonly radiusMm: number }
  | { readonly kind: 'easementNegative'; readonly corner: number; readonly lengthMm: number }
  | { readonly kind: 'coincidentPoints'; readonly side: number; readonly at: Point }
  | { readonly kind: 'reversal'; readonly corner: number; readonly at: Point }
  /** The easements alone turn more than the corner does. */
  | {
      readonly kind: 'easementsTooLong'
      readonly corner: number
      readonly at: Point
      /** theta in + theta out - |deflection|, rad. */
      readonly excessRad: number
      /** Length of arc that is missing, mm. */
      readonly shortByMm: number
      /** Both easements multiplied by this fit with no arc left. */
      readonly fittingFactor: number
    }
  | { readonly kind: 'noCurvature'; readonly corner: number }
  /** The arcs whose turn is fixed turn more than the corner (excess > 0), or less and no arc has a share in the rest (excess < 0). */
  | { readonly kind: 'arcsMisfit'; readonly corner: number; readonly at: Point; readonly excessRad: number }
  /** An arc of a compound curve, counted from 0, whose turn or share is not above zero. */
  | { readonly kind: 'arcWithoutTurn'; readonly corner: number; readonly arc: number }
  /** Two curves (or a curve and an end) want more of a side than there is. */
  | {
      readonly kind: 'sideTooShort'
      readonly side: number
      readonly at: Point
      readonly haveMm: number
      readonly needMm: number
      readonly shortByMm: number
    }
  /** The PI lies behind the leg it should lie ahead of. */
  | { readonly kind: 'behindLeg'; readonly end: 'start' | 'end'; readonly at: Point }
  | { readonly kind: 'legUnsolved'; readonly end: 'start' | 'end'; readonly turnout: Id }
  | { readonly kind: 'legsNotInLine'; readonly offsetMm: number; readonly headingRad: number }
  | { readonly kind: 'tooFewCorners'; readonly have: number; readonly need: number }
  | { readonly kind: 'circular'; readonly through: readonly Id[] }
  /** A closed loop has no end that could start at a leg. */
  | { readonly kind: 'closedFromLeg'; readonly turnout: Id }
  /** The class asks for an easement of this shift; with this radius only 0..maxShiftMm can be had. */
  | { readonly kind: 'shiftImpossible'; readonly corner: number; readonly shiftMm: number; readonly maxShiftMm: number }

/**
 * Where one arc of a compound curve gives over to the next: from the end of one to the start of the other, which are one
 * place (CC, curve to curve) when no easement lies between.
 */
export interface CurveJoin {
  readonly fromMm: number
  readonly toMm: number
}

/**
 * Where a corner's curve lies on the path. A PI that turns less than 1e-9 rad is straight: its four stations are
 * the one station of the PI and all lengths of its solution are zero.
 */
export interface CornerPlace {
  readonly cornerId: Id
  /** The PI as used: projected on the leg's tangent where it must be. */
  readonly pi: Point
  readonly solution: CornerSolution
  readonly tsMm: number
  readonly scMm: number
  readonly csMm: number
  readonly stMm: number
  /** Between SC and CS, one fewer than arcs; none of a plain corner. */
  readonly joins: readonly CurveJoin[]
}

/**
 * polygon: the traverse as used (PIs projected on legs); open: start, PIs, end; closed: the PIs and the first one again.
 * The path's headings run on without jumps of 2 pi, so a closed loop ends one turn from where it started.
 */
export type Alignment =
  | {
      readonly ok: true
      readonly path: Path
      readonly isClosed: boolean
      readonly corners: readonly CornerPlace[]
      readonly polygon: readonly Point[]
    }
  /** polygon: the traverse as far as known; pieces: what can be drawn of it. */
  | {
      readonly ok: false
      readonly problems: readonly AlignmentProblem[]
      readonly polygon: readonly Point[]
      readonly pieces: readonly Path[]
    }

/** A traverse ready to solve: every value resolved. */
export interface TraverseCorner extends Point {
  readonly id: Id
  readonly radiusMm: number | null | CompoundRequest
  readonly easementInMm: number
  readonly easementOutMm: number
}
export interface Traverse {
  readonly start: { readonly kind: 'free'; readonly at: Point } | { readonly kind: 'leg'; readonly pose: Pose; readonly turnout: Id }
  readonly corners: readonly TraverseCorner[]
  readonly end:
    | { readonly kind: 'free'; readonly at: Point }
    /** pose: leaving the leg, as for a start; the track arrives against it. */
    | { readonly kind: 'leg'; readonly pose: Pose; readonly turnout: Id }
    | { readonly kind: 'closed' }
}
