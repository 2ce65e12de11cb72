import type { Facing, Hand } from './turnouts.ts'
import type { ByClass, Id } from './types.ts'

// Tracks and turnouts written from a few numbers. Lengths mm on the model.

/** What a maker wrote, part by part in an order of its own: the same part keeps its id when the numbers change. */
export interface Made {
  readonly tracks: readonly Id[]
  readonly turnouts: readonly Id[]
}

/** Which end of a track. */
export type TrackEndName = 'start' | 'end'

/** Between two parallel tracks. single: one of this hand; double: one of this hand, then one of the other; scissors: both on one stretch. */
export interface CrossoverNumbers {
  readonly kind: 'crossover'
  readonly track: Id
  readonly otherTrack: Id
  /** Middle of the crossover, on `track`. */
  readonly stationMm: number
  readonly hand: Hand
  readonly frog: number
  readonly layout: 'single' | 'double' | 'scissors'
}

/** A track beside its host that leaves and joins it again; also round curves. */
export interface SidingNumbers {
  readonly kind: 'siding'
  readonly track: Id
  /** Points of the two turnouts, on the host. */
  readonly fromMm: number
  readonly toMm: number
  /** Seen along rising station. */
  readonly side: Hand
  readonly centresMm: number
  /** Beside curves, where cars swing out. */
  readonly curveCentresMm: number
  readonly frogFrom: number
  readonly frogTo: number
}

/** A track that leaves its host and ends. */
export interface SpurNumbers {
  readonly kind: 'spur'
  readonly track: Id
  /** Points, on the host. */
  readonly stationMm: number
  readonly facing: Facing
  readonly side: Hand
  readonly frog: number
  /** Runs beside the host at these centres, or away from it at this angle. */
  readonly course: { readonly kind: 'parallel'; readonly centresMm: number } | { readonly kind: 'angle'; readonly angleRad: number }
  /** Straight behind its curve. */
  readonly lengthMm: number
}

/** Body tracks that hang on a ladder. */
export interface YardNumbers {
  readonly kind: 'yard'
  readonly track: Id
  /** Points of the turnout that leads into the ladder, on the host. */
  readonly stationMm: number
  readonly facing: Facing
  readonly side: Hand
  readonly frog: number
  /** Body tracks; the host is none of them. */
  readonly tracks: number
  /** Host to the first body track. */
  readonly leadCentresMm: number
  readonly centresMm: number
  /** Straight of the shortest body track. */
  readonly bodyMm: number
  /** compound: a second ladder leaves the first one at its foot. */
  readonly ladder: 'straight' | 'compound'
  readonly ends: 'stub' | 'double'
}

/** Three turnouts in a triangle: two on the host, one on the tail. */
export interface WyeNumbers {
  readonly kind: 'wye'
  readonly track: Id
  /** The tail, on the host. */
  readonly stationMm: number
  readonly side: Hand
  readonly frog: number
  readonly tailFrog: number
  readonly radius: ByClass
  /** Straight of the tail behind its points. */
  readonly tailMm: number
}

/** A turnout at the end of a track whose two ways out are joined by a loop. */
export interface LoopNumbers {
  readonly kind: 'loop'
  readonly track: Id
  readonly end: TrackEndName
  /** Of the turnout, as seen by one who goes into the loop. */
  readonly hand: Hand
  readonly frog: number
  readonly radius: ByClass
  /** Between the reverse curves. */
  readonly straightMm: number
}

/** A half circle from the end of one track to the end of another beside it. */
export interface TurnbackNumbers {
  readonly kind: 'turnback'
  readonly track: Id
  readonly end: TrackEndName
  readonly otherTrack: Id
  readonly otherEnd: TrackEndName
}

/** How wide a helix is: its radius, or all the room there is for it across, margins of the benchwork included. */
export type HelixSize = { readonly kind: 'radius'; readonly radius: ByClass } | { readonly kind: 'across'; readonly acrossMm: number }

/** How steeply a helix climbs: railhead to railhead in one turn; what is to be clear over the railhead; or its grade. */
export type HelixRise =
  | { readonly kind: 'perTurn'; readonly riseMm: number }
  | { readonly kind: 'clear'; readonly clearMm: number }
  | { readonly kind: 'grade'; readonly grade: number }

/** Turns over each other behind the end of a track. How high it comes is known to these numbers only: a plan has no elevations yet. */
export interface HelixNumbers {
  readonly kind: 'helix'
  readonly track: Id
  readonly end: TrackEndName
  /** To which side it turns. */
  readonly hand: Hand
  readonly size: HelixSize
  /** From the railhead at one end to the railhead at the other. */
  readonly climbMm: number
  readonly rise: HelixRise
  /** Deck, roadbed and ties: what lies between a rail and the clear height under it. */
  readonly deckMm: number
  /** Leaves where the climb is done; or after whole turns at this angle from the way in, measured as it turns. */
  readonly exit: { readonly kind: 'asClimb' } | { readonly kind: 'angle'; readonly angleRad: number }
  /** Straight behind it. */
  readonly straightMm: number
}

export type MakerNumbers =
  | CrossoverNumbers
  | SidingNumbers
  | SpurNumbers
  | YardNumbers
  | WyeNumbers
  | LoopNumbers
  | TurnbackNumbers
  | HelixNumbers

/**
 * Writes tracks and turnouts from a few numbers. What it made are ordinary records that say what they are by themselves; their geometry
 * follows the numbers until the maker is taken apart.
 */
export interface Maker {
  readonly id: Id
  readonly name: string
  /** Class of the tracks that it makes. */
  readonly lineClass: Id
  readonly numbers: MakerNumbers
  readonly made: Made
}
