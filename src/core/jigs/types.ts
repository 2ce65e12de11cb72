import type { Polygon } from '../geom/index.ts'
import type { Box, Path, Point, Pose } from '../geom/types.ts'
import type { FrogDefinition } from '../plan/types.ts'

// Jigs to be printed in plastic or cut from sheet, as data. mm on the model; z up from the printer's bed.

/** Numbers of each kind of jig, as typed. A radius of 0 means straight, an easement of 0 none. */
export interface JigValues {
  /** Grooves in which ties are laid at their spacing, square to a straight line or to a curve. */
  readonly tieSpacing: {
    readonly tieLengthMm: number
    readonly tieWidthMm: number
    readonly tieThicknessMm: number
    readonly spacingMm: number
    /** Of the centreline, which turns left of rising grooves. */
    readonly radiusMm: number
  }
  /** A band between the rails of a curve: straight, easement, arc. */
  readonly curve: {
    readonly gaugeMm: number
    readonly radiusMm: number
    readonly easementMm: number
    readonly arcMm: number
    /** Straight ahead of the curve. */
    readonly runOutMm: number
    readonly thicknessMm: number
    /** Rail feet reach so far in under the band, so high; 0: the band is cut straight down. */
    readonly footReachMm: number
    readonly footHeightMm: number
  }
  /** Notches that sit on the heads of two tracks. */
  readonly trackSpacing: {
    readonly centresMm: number
    readonly gaugeMm: number
    readonly railHeadMm: number
    readonly railHeightMm: number
    readonly thicknessMm: number
  }
  /** Slots that hold a rail at the angle to which its end is filed flush with the block. */
  readonly filing: {
    readonly frog: number
    readonly definition: FrogDefinition
    /** Between the planed face of a point and its running face. */
    readonly pointAngleRad: number
    readonly railFootMm: number
    readonly railHeightMm: number
  }
  /** A fence along a sheet's edge and an edge for the knife, which leans as the shoulder does. */
  readonly roadbed: {
    /** Of the strip at its top. */
    readonly widthMm: number
    readonly sheetMm: number
    readonly shoulderRun: number
    readonly lengthMm: number
  }
  readonly riser: {
    readonly heightMm: number
    readonly widthMm: number
    readonly thicknessMm: number
  }
  /** Three noses that all touch the inner face of a curve's outer rail. */
  readonly midOrdinate: {
    /** Of the centreline. */
    readonly radiusMm: number
    readonly gaugeMm: number
    readonly chordMm: number
    readonly thicknessMm: number
  }
}

export type JigKind = keyof JigValues
export type JigRequest = { readonly [K in JigKind]: { readonly kind: K; readonly values: JigValues[K] } }[JigKind]

/** What a printer can do. */
export interface Printer {
  readonly bedXMm: number
  readonly bedYMm: number
  readonly bedZMm: number
  /** Slots, grooves and holes are wider by so much than what goes in. */
  readonly slotAllowanceMm: number
  /** Room to each side of a dovetail. */
  readonly jointAllowanceMm: number
}

/** An outline drawn out straight: 'z' lies in the plan and rises; 'x' stands across (its x is y, its y is z) and runs along x. */
export interface Prism {
  readonly axis: 'z' | 'x'
  readonly polygon: Polygon
  readonly fromMm: number
  readonly toMm: number
}

/** All that is added, less all that is cut. */
export interface Body {
  readonly adds: readonly Prism[]
  readonly cuts: readonly Prism[]
}

/** What the seams between pieces need to know of a body. */
export interface SeamRules {
  /** The line along which a long jig is cut into pieces, each seam square to it. */
  readonly spine: Path
  /** The body lies so far to the left and right of its spine. */
  readonly leftMm: number
  readonly rightMm: number
  /** Solid at every seam, left and right of the spine: here stand the dovetails. */
  readonly solidLeftMm: number
  readonly solidRightMm: number
  /** The only stations for a seam; null: any will do. */
  readonly stationsMm: readonly number[] | null
}

/** A measure in the drawing of a jig. radius: `from` lies on the curve, `to` towards its middle. */
export interface JigDimension {
  readonly kind: 'length' | 'radius' | 'angle'
  readonly from: Point
  readonly to: Point
  readonly value: number
  /** The line of the measure stands so far to the left of from → to, in tenths of the height of its text. */
  readonly aside: number
}

export type JigFactName =
  | 'ties'
  | 'grooveWidth'
  | 'grooveDepth'
  | 'width'
  | 'wholeTurn'
  | 'holeDistance'
  | 'slotWidth'
  | 'slotDepth'
  | 'fenceDepth'
  | 'frogAngle'
  | 'frogFiling'
  | 'pointFiling'
  | 'shoulderAngle'
  | 'railRadius'
  | 'midOrdinate'
  | 'pieces'

export interface JigFact {
  readonly name: JigFactName
  readonly kind: 'length' | 'angle' | 'count'
  readonly value: number
}

/** A piece as it comes off the bed. */
export interface JigPiece {
  readonly number: number
  /** What of the body it is, in the plan. */
  readonly within: Polygon
  /** Laid along the bed's x, this frame becomes the bed's corner. */
  readonly frame: Pose
  /** It takes no more of the bed than this. */
  readonly sizeXMm: number
  readonly sizeYMm: number
}

export interface Jig {
  readonly kind: JigKind
  readonly body: Body
  readonly heightMm: number
  /** At this height the jig's outline is that of a flat one, to be cut from sheet; null: it is not flat. */
  readonly flatAtMm: number | null
  readonly pieces: readonly JigPiece[]
  /** Where it is cut, in the plan, for the drawing. */
  readonly seams: readonly (readonly Point[])[]
  readonly box: Box
  readonly dimensions: readonly JigDimension[]
  readonly facts: readonly JigFact[]
}

/** A number of one kind of jig or of the printer. */
export type JigValueName = { readonly [K in JigKind]: keyof JigValues[K] }[JigKind] | keyof Printer

export type JigLimit =
  /** No such thing is printed, or it could not be held. */
  | 'size'
  /** A wall between two grooves, slots or notches. */
  | 'wall'
  /** The other side of the curve would reach its middle. */
  | 'middle'
  /** A curve that turns so far comes round to itself. */
  | 'turn'
  | 'height'
  /** The guide's edge must lie within its back. */
  | 'edge'
  /** None at all, or one that can be seen. */
  | 'easement'
  /** The chord must fit in the curve. */
  | 'chord'
  /** Slots would leave the block before they are out of it. */
  | 'angle'

export type JigProblem =
  | {
      readonly kind: 'badValue'
      readonly where: JigValueName
      readonly value: number
      readonly least: number
      /** null: no upper bound. */
      readonly most: number | null
      readonly because: JigLimit
    }
  /** However it is cut into pieces, one needs a bed of this size. */
  | {
      readonly kind: 'bedTooSmall'
      readonly bedXMm: number
      readonly bedYMm: number
      readonly needXMm: number
      readonly needYMm: number
    }

export type JigResult = { readonly ok: true; readonly jig: Jig } | { readonly ok: false; readonly problems: readonly JigProblem[] }

/** A jig before it is cut to the printer's bed. */
export interface WholeJig extends Omit<Jig, 'pieces' | 'seams' | 'box'> {
  readonly seamRules: SeamRules
}

export type WholeResult = { readonly ok: true; readonly whole: WholeJig } | { readonly ok: false; readonly problems: readonly JigProblem[] }
