import type { Path, Point } from '../geom/types.ts'
import type { Stretch } from '../network/index.ts'
import type { Id, Roadbed } from '../plan/types.ts'
import type { CutProblem, PlacedPiece } from '../sticks/types.ts'
import type { RouteName } from '../turnout/types.ts'

// Roadbed to cut and lay. mm on the model; stations of a run count along its own path from its start, offsets left positive.

/** On what a run of roadbed lies: a track's line, or the whole route of a turnout whose host ends at its points. */
export type RunOwner =
  | { readonly kind: 'track'; readonly track: Id }
  | { readonly kind: 'turnout'; readonly turnout: Id; readonly route: RouteName }

/** Roadbed without a break: the full band of a line. Turnouts on the line are run through, with no joint in a throw bay. */
export interface RoadbedRun {
  readonly id: string
  readonly owner: RunOwner
  readonly lineClass: Id
  readonly roadbed: Roadbed
  /** The line under the run; of a closed one twice round, so that a piece can lie over its beginning. */
  readonly path: Path
  readonly lengthMm: number
  readonly isClosed: boolean
  /** Station of the track at the run's start; a run on a turnout's own route counts from the route's. */
  readonly originMm: number
  /** Width at the foot: top and both shoulders; what the strips add up to before their edges are bevelled. */
  readonly footWidthMm: number
  /** In order of station, without gaps; each of one count of strips. */
  readonly stretches: readonly StripStretch[]
  /** Every curve of the run, easements counted in. */
  readonly curves: readonly StripFan[]
  /** Throw bays in which no strip is joined. */
  readonly forbidden: readonly Stretch[]
  readonly pieces: readonly StripPiece[]
}

/** A stretch that is laid with so many strips side by side. */
export interface StripStretch {
  readonly fromMm: number
  readonly toMm: number
  readonly strips: number
  readonly stripWidthMm: number
  /** Tightest radius of the run's line there; null: straight. */
  readonly radiusMm: number | null
  /** Widest strip that would bend there; null: any. */
  readonly widestMm: number | null
  /** Largest strain of any strip there: w / 2R of its own middle line; null: the band reaches the curve's centre. */
  readonly strain: number | null
}

/** The strips of one curve: outer ones are longer than inner ones. */
export interface StripFan {
  readonly fromMm: number
  readonly toMm: number
  readonly radiusMm: number
  readonly turnRad: number
  /** From left to right along rising station. */
  readonly strips: readonly FanStrip[]
}

export interface FanStrip {
  /** 0 is the leftmost. */
  readonly strip: number
  /** Middle of the strip. */
  readonly offsetMm: number
  readonly lengthMm: number
  readonly leftEdgeMm: number
  readonly rightEdgeMm: number
  readonly strain: number
}

/** One piece of strip: cut straight, bent to its place. */
export interface StripPiece {
  /** Its mark, unique in the plan. */
  readonly id: string
  readonly run: string
  /** 0 is the leftmost. */
  readonly strip: number
  readonly offsetMm: number
  readonly fromMm: number
  readonly toMm: number
  /** Along its middle. */
  readonly lengthMm: number
  readonly widthMm: number
  /** Sides that are bevelled to the shoulder. */
  readonly bevel: 'none' | 'left' | 'right' | 'both'
}

/** What a leaving route of a turnout, or the second track of a crossing, adds to the host's roadbed: a card to cut along and the strips under it. */
export interface RoadbedTurnoutPiece {
  readonly id: string
  readonly owner: { readonly kind: 'turnout'; readonly turnout: Id } | { readonly kind: 'crossing'; readonly crossing: string }
  readonly route: RouteName
  readonly lineClass: Id
  readonly roadbed: Roadbed
  /** Edges in the plan, anticlockwise for a route to the left. */
  readonly top: readonly Point[]
  readonly foot: readonly Point[]
  /** From where it begins to the crotch. */
  readonly taperMm: number
  /** null: there is no crotch, as beside a slip or where two bands never part. */
  readonly crotchRad: number | null
  readonly strips: readonly FillerStrip[]
}

/** A strip beside the host's roadbed: tapered where it comes out of it, full from there on. */
export interface FillerStrip {
  readonly id: string
  /** 0 lies farthest from the host. */
  readonly strip: number
  /** A strip longer than the stock comes in pieces, from the taper on. */
  readonly number: number
  readonly widthMm: number
  /** Along its middle, from the tip of the taper. */
  readonly lengthMm: number
  /** Length of the taper at its beginning. */
  readonly taperMm: number
}

/** A slope of the roadbed's top between track of another height and a class's own. */
export interface RoadbedRamp {
  readonly id: string
  readonly track: Id
  /** The turnout or crossing whose height it starts from. */
  readonly from: { readonly kind: 'turnout'; readonly turnout: Id } | { readonly kind: 'crossing'; readonly crossing: string }
  /** Station where it starts, at the first tie of the track's own; it runs on along rising or falling station. */
  readonly startMm: number
  readonly direction: 1 | -1
  /** Above 0: the roadbed's top falls away from the turnout. Railheads meet at its start. */
  readonly dropMm: number
  /** What the drop is made of: each that of the turnout less the track's own. */
  readonly parts: { readonly roadbedMm: number; readonly tieMm: number; readonly railMm: number }
  readonly lengthMm: number
  /** Thickness of roadbed under the track's own ties, at even steps from the start. */
  readonly thickness: readonly { readonly alongMm: number; readonly thicknessMm: number }[]
  /** A falling ramp built up on the track's own roadbed. Bottom layer first; each begins at the ramp's start. */
  readonly shims: ShimSchedule | null
}

export interface ShimSchedule {
  readonly layerMm: number
  /** Where each layer ends, from the ramp's start; the bottom layer reaches farthest. */
  readonly endsMm: readonly number[]
  /** Less than a layer, left at the very start. */
  readonly remainderMm: number
  /** Length of all layers together. */
  readonly totalMm: number
}

export interface RoadbedWork {
  readonly runs: readonly RoadbedRun[]
  readonly turnoutPieces: readonly RoadbedTurnoutPiece[]
  readonly ramps: readonly RoadbedRamp[]
  readonly problems: readonly RoadbedProblem[]
}

/** Where a problem lies; stations of the owner's own line. */
export interface RoadbedPlace {
  readonly owner: RunOwner
  readonly fromMm: number
  readonly toMm: number
}

export type RoadbedProblem =
  | {
      readonly kind: 'badRoadbed'
      readonly lineClass: Id
      readonly what: 'thickness' | 'topWidth' | 'shoulder' | 'strips'
      readonly value: number
      readonly wouldDo: number
    }
  | { readonly kind: 'noMaterial'; readonly lineClass: Id; readonly material: Id; readonly known: readonly Id[] }
  | { readonly kind: 'badStrain'; readonly material: Id; readonly value: number; readonly wouldDo: number }
  /** As many strips as the class asks for tear; so many would do. */
  | {
      readonly kind: 'stripsTear'
      readonly at: RoadbedPlace
      readonly radiusMm: number
      readonly strips: number
      readonly widthMm: number
      readonly strain: number | null
      readonly limit: number
      readonly stripsThatDo: number | null
    }
  /** Not even the narrowest sensible strip bends; from this radius on it does, or with this strain. */
  | {
      readonly kind: 'cannotBend'
      readonly at: RoadbedPlace
      readonly radiusMm: number
      readonly narrowestMm: number
      readonly radiusThatDoesMm: number
      readonly strainThatDoes: number | null
    }
  /** No stock of the material and thickness is as wide as the strip. */
  | {
      readonly kind: 'noStock'
      readonly material: Id
      readonly thicknessMm: number
      readonly widthMm: number
      readonly widestMm: number | null
      readonly otherThicknessMm: readonly number[]
    }
  /** Between joints that are allowed lies more than a strip of stock is long. */
  | {
      readonly kind: 'noJointPlace'
      readonly at: RoadbedPlace
      readonly strip: number
      readonly longestMm: number
      readonly lengthThatDoesMm: number | null
      readonly staggerThatDoesMm: number | null
    }
  /** A track beside its host never gets clear of the host's roadbed. */
  | { readonly kind: 'bandsOverlap'; readonly turnout: Id; readonly track: Id; readonly host: Id; readonly overlapMm: number }
  /** A card's strip is longer than the stock. */
  | { readonly kind: 'pieceTooLong'; readonly piece: string; readonly lengthMm: number; readonly longestMm: number }
  | {
      readonly kind: 'rampTooLong'
      readonly ramp: string
      readonly track: Id
      readonly stationMm: number
      readonly neededMm: number
      readonly roomMm: number
      readonly rampThatDoes: number | null
    }
  /** The turnout is so low that the track's roadbed would have to be thinner than nothing at the ramp's start. */
  | { readonly kind: 'rampTooLow'; readonly ramp: string; readonly track: Id; readonly stationMm: number; readonly missingMm: number }

/** A strip of a sheet, cut along the sheet's length. */
export interface SheetStrip {
  readonly widthMm: number
  /** Its edge from the edge of the sheet. */
  readonly acrossMm: number
  readonly pieces: readonly PlacedPiece[]
  readonly leftMm: number
  readonly isKept: boolean
}

export interface SheetCut {
  readonly stock: Id
  readonly strips: readonly SheetStrip[]
  /** Width of the sheet that is left, the last cut taken off. */
  readonly leftWidthMm: number
}

export interface SheetCount {
  readonly stock: Id
  readonly used: number
  readonly fromHand: number
  readonly toBuy: number
  readonly packs: number
}

export interface RoadbedCutPlan {
  readonly sheets: readonly SheetCut[]
  readonly counts: readonly SheetCount[]
  /** Area of the pieces and of the sheets that they are cut from. */
  readonly usedMm2: number
  readonly sheetMm2: number
  /** Both the lengths on strips and the strips on sheets are proven best, each for itself. */
  readonly isProven: boolean
}

export type RoadbedCutProblem =
  | RoadbedProblem
  | { readonly kind: 'badKerf'; readonly value: number; readonly wouldDo: number }
  | { readonly kind: 'notEnough'; readonly stock: Id; readonly needed: number; readonly onHand: number }
  /** Strips of one width do not go on their stock, or strips not on their sheets. */
  | {
      readonly kind: 'lengths'
      readonly material: Id
      readonly thicknessMm: number
      readonly widthMm: number
      readonly problem: CutProblem
    }

export type RoadbedCutResult =
  | { readonly ok: true; readonly plan: RoadbedCutPlan }
  | { readonly ok: false; readonly problem: RoadbedCutProblem }
