// Pieces cut from stock lengths. mm; the solver itself counts whole micrometres, below what any saw keeps.

export interface CutPiece {
  readonly id: string
  readonly lengthMm: number
}

export interface CutStock {
  readonly id: string
  readonly lengthMm: number
  /** null: as many as wanted. */
  readonly count: number | null
  /** Costs money; what is not bought lies at hand and goes first where that saves buying. */
  readonly isBought: boolean
}

/**
 * What is to be cut. A cut takes kerfMm between any two pieces, and one more behind the last unless that piece ends with the stick.
 * leastOffcutMm: what is left and at least so long is kept.
 */
export interface CutRequest {
  readonly pieces: readonly CutPiece[]
  readonly stocks: readonly CutStock[]
  readonly kerfMm: number
  readonly leastOffcutMm: number
}

export interface PlacedPiece {
  readonly id: string
  readonly fromMm: number
  readonly lengthMm: number
}

export interface StickCut {
  readonly stock: string
  readonly lengthMm: number
  /** Longest first, from the end of the stick on, a kerf between any two. */
  readonly pieces: readonly PlacedPiece[]
  /** Behind the last cut. */
  readonly leftMm: number
  /** Long enough to be kept as an offcut. */
  readonly isKept: boolean
}

/** A cutting in numbers, to compare. */
export interface CutMeasure {
  readonly stickCount: number
  readonly boughtCount: number
  readonly boughtMm: number
  /** Stock less pieces and kept offcuts: kerfs and short ends. */
  readonly wasteMm: number
}

/**
 * The best cutting found: least bought length first (with one bought length: fewest bought sticks), then least length taken from hand; ends
 * that are left lie on few sticks, so that they are long.
 */
export interface CutPlan extends CutMeasure {
  readonly sticks: readonly StickCut[]
  /** No cutting needs less bought length; with nothing to buy, no less length from hand. */
  readonly boundMm: number
  /** The bound in sticks; null where sticks of several lengths count. */
  readonly boundSticks: number | null
  /** The bound is reached: no cutting buys less; with nothing to buy, none takes less from hand. */
  readonly isProven: boolean
  /** How far above the bound, as a share of it; 0 if proven. */
  readonly gap: number
  /** The same list by first fit, longest piece first: the usual way by hand. null: it finds no place for all. */
  readonly firstFit: CutMeasure | null
  readonly ended: 'done' | 'stopped'
}

export type CutProblem =
  | { readonly kind: 'badKerf'; readonly value: number; readonly wouldDo: number }
  | { readonly kind: 'badLeastOffcut'; readonly value: number; readonly wouldDo: number }
  | { readonly kind: 'badPiece'; readonly piece: string; readonly value: number }
  | { readonly kind: 'badStock'; readonly stock: string; readonly what: 'length' | 'count'; readonly value: number }
  | { readonly kind: 'noStock' }
  /** lengthMm would do as a stock length. */
  | { readonly kind: 'pieceTooLong'; readonly piece: string; readonly lengthMm: number; readonly longestMm: number }
  /** isProven: no cutting places all; else none was found. */
  | {
      readonly kind: 'notEnough'
      readonly missingPieces: readonly string[]
      readonly missingMm: number
      /** So many more sticks of the longest stock would do. */
      readonly missingSticks: number
      readonly longestMm: number
      readonly isProven: boolean
    }

export type CutResult = { readonly ok: true; readonly plan: CutPlan } | { readonly ok: false; readonly problem: CutProblem }

export interface CutProgress {
  readonly rounds: number
  /** Bought length of the best cutting so far, or length from hand if nothing is bought. */
  readonly bestMm: number
  readonly boundMm: number
}

export type CutWish = 'goOn' | 'stop'

/** Minimise cost . x, x >= 0, every row between least and most. */
export interface CutMaster {
  readonly cost: readonly number[]
  readonly columns: readonly { readonly rows: readonly number[]; readonly values: readonly number[] }[]
  readonly least: readonly number[]
  readonly most: readonly number[]
}

export type CutMasterOutcome =
  | { readonly status: 'optimal' | 'feasible'; readonly x: readonly number[]; readonly duals: readonly number[] }
  | { readonly status: 'failed'; readonly says: string }

/** A master program that is kept: columns are added, and each solve starts from the last. */
export interface CutMasterKept {
  add(cost: number, rows: readonly number[], values: readonly number[]): void
  /** Changes a row's least and most. */
  bound(row: number, least: number, most: number): void
  solve(): CutMasterOutcome
  close(): void
}

/** The solver of programs is handed in: the core has none of its own. */
export interface CutSolver {
  open(master: CutMaster): CutMasterKept
  /** All x whole; the best found within the time. */
  whole(master: CutMaster, seconds: number): CutMasterOutcome
}
