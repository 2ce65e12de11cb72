import type { Id, Stock } from '../plan/types.ts'
import type { RailWork } from '../rails/types.ts'
import type { RoadbedCutResult, RoadbedWork } from '../roadbed/types.ts'
import type { CutResult } from '../sticks/types.ts'
import type { TieOrder, TieProblem, TieWork } from '../ties/types.ts'

// What to cut, buy and spend. mm on the model; money in whatever the prices were typed in.

export interface RailCut {
  readonly code: number
  /** The plan's stock by the name that it has in the cutting: what is bought has a name of its own. */
  readonly stocks: { readonly [name: string]: Id }
  readonly result: CutResult
}

export interface TieCut {
  readonly order: TieOrder
  readonly result: CutResult
}

/** All that a plan is cut into, and what it is cut from. */
export interface LayingLists {
  readonly rails: RailWork
  readonly railCuts: readonly RailCut[]
  readonly ties: TieWork
  readonly tieProblems: readonly TieProblem[]
  readonly tieCuts: readonly TieCut[]
  readonly roadbed: RoadbedWork
  readonly roadbedCut: RoadbedCutResult
}

/** transitionJoiners: where rail of another code follows. */
export type ShoppingWhat = Stock['of']['kind'] | 'spikes' | 'joiners' | 'insulatedJoiners' | 'transitionJoiners' | 'shimTape'

/**
 * A line of the list. needed: pieces, of shim tape mm. stock: null if the plan has none to buy it from. toBuy and packs: null where the plan
 * does not say how much a piece holds, as of tape. price: packs by their price; null: not known.
 */
export interface ShoppingLine {
  readonly what: Exclude<ShoppingWhat, 'supply'>
  readonly stock: Id | null
  readonly needed: number
  readonly unit: 'piece' | 'mm'
  readonly fromHand: number
  readonly toBuy: number | null
  readonly packs: number | null
  readonly price: number | null
}

/** Hours by the builder's own pace; unknown: work for which no pace is given. hours: null if none is. */
export interface LayingTime {
  readonly plainMm: number
  readonly turnouts: number
  readonly crossings: number
  readonly hours: number | null
  readonly unknown: readonly ('plain' | 'turnouts' | 'crossings')[]
}

export interface Shopping {
  readonly lines: readonly ShoppingLine[]
  /** Of all lines with a price. */
  readonly total: number
  /** Lines to be bought whose price is not known, by their place in `lines`. */
  readonly unpriced: readonly number[]
  /** Not on the list, since it could not be cut: the problems of the lists say why. */
  readonly missing: readonly ('rail' | 'roadbed' | 'tie' | 'board')[]
  readonly time: LayingTime
}
