import type { Id, TieSize } from '../plan/types.ts'
import type { CutRequest } from '../sticks/types.ts'

// Ties to cut and lay. mm on the model.

export type TieOwner =
  | { readonly kind: 'track'; readonly track: Id }
  | { readonly kind: 'turnout'; readonly turnout: Id }
  | { readonly kind: 'crossing'; readonly crossing: string }

export type TieMaterial = 'wood' | 'board'

/** A tie to cut, in its place. */
export interface LaidTie extends TieSize {
  /** Its mark, unique in the plan: its owner and its number along it. */
  readonly id: string
  readonly stationMm: number
  readonly material: TieMaterial
  readonly isHeadBlock: boolean
  /** Beside a rail joint, moved closer to it. */
  readonly isJointTie: boolean
}

export interface TieSet {
  readonly owner: TieOwner
  readonly lineClass: Id | null
  readonly ties: readonly LaidTie[]
}

/** So many ties alike: a line of the saw list. */
export interface TieLine extends TieSize {
  readonly material: TieMaterial
  readonly count: number
  /** Of which so many lie under plain track, in turnouts and in crossings. */
  readonly plain: number
  readonly turnout: number
  readonly crossing: number
}

/** The tie list of the whole plan, one page that adds up. */
export interface TieList {
  readonly lines: readonly TieLine[]
  readonly byOwner: readonly { readonly owner: TieOwner; readonly count: number; readonly lines: readonly TieLine[] }[]
  readonly count: number
  readonly totalMm: number
}

/** A board with grooves in which ties are laid face down and taped. */
export interface TieJig {
  readonly lineClass: Id
  readonly tie: TieSize
  readonly spacingMm: number
  readonly ties: number
  readonly boardLengthMm: number
  readonly boardWidthMm: number
  readonly grooveWidthMm: number
  readonly grooveDepthMm: number
  /** Middle of each groove from the board's left end. */
  readonly groovesMm: readonly number[]
  /** Edge of the stop along which tie ends are lined up, from the board's front edge. */
  readonly stopMm: number
}

/** Ties taped as one strip, for one piece of line. */
export interface TapeBatch {
  readonly track: Id
  readonly lineClass: Id
  readonly fromMm: number
  readonly toMm: number
  /** Tightest there; null: straight. */
  readonly radiusMm: number | null
  readonly hand: 'left' | 'right' | null
  readonly ties: number
  /** Strips of a full jig, and ties of the last one; 0: none is left over. */
  readonly fullStrips: number
  readonly lastTies: number
  readonly stepMm: number
  /** Turn from tie to tie that keeps each square to the line: step / R. */
  readonly fanRad: number
  /** From tie to tie at the tie ends outside and inside of the curve. */
  readonly outerStepMm: number
  readonly innerStepMm: number
  /** Widest tape that bends so in its own plane; null: any. */
  readonly tapeWidthMm: number | null
}

export type TieProblem =
  | {
      readonly kind: 'noTieStock'
      readonly material: TieMaterial
      readonly widthMm: number
      readonly thicknessMm: number
      readonly count: number
      readonly longestMm: number
      readonly others: readonly { readonly widthMm: number; readonly thicknessMm: number }[]
    }
  | {
      readonly kind: 'tieTooLong'
      readonly material: TieMaterial
      readonly tie: string
      readonly lengthMm: number
      readonly longestMm: number
      readonly count: number
    }
  /** The spacing beside joints leaves no room for a tie, or is wider than the rest. */
  | { readonly kind: 'badJointSpacing'; readonly lineClass: Id; readonly value: number; readonly leastMm: number; readonly mostMm: number }
  | { readonly kind: 'badSpacing'; readonly lineClass: Id; readonly value: number; readonly leastMm: number }

/** Stations of rail joints, by track. */
export type JointStations = ReadonlyMap<Id, readonly number[]>

export interface TieWork {
  readonly sets: readonly TieSet[]
  readonly list: TieList
  readonly batches: readonly TapeBatch[]
  readonly jigs: readonly TieJig[]
  readonly problems: readonly TieProblem[]
}

/** Ties of one size to cut from stock, as the room of sticks asks for it. */
export interface TieOrder {
  readonly material: TieMaterial
  readonly widthMm: number
  readonly thicknessMm: number
  /** The plan's stock by the name that it has in the request: what is at hand and what is bought have names of their own. */
  readonly stocks: { readonly [name: string]: Id }
  readonly request: CutRequest
}
