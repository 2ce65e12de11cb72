import type { CutStock } from './types.ts'

/** Behind the name of a stock that is bought: what is at hand and what is bought of one stock are two to the solver. */
const boughtMark = ' bought'

/** A stock as a builder has it: so many at home, and whether more can be bought. */
export interface StockLength {
  readonly id: string
  readonly lengthMm: number
  readonly onHand: number
  readonly canBuy: boolean
}

/** What may be cut from: what is at hand under the stock's own name, what is bought under a name that stockOfStick leads back from. */
export function cutStocks(stocks: readonly StockLength[]): readonly CutStock[] {
  return stocks.flatMap(({ id, lengthMm, onHand, canBuy }) => [
    ...(onHand > 0 ? [{ id, lengthMm, count: onHand, isBought: false }] : []),
    ...(canBuy ? [{ id: `${id}${boughtMark}`, lengthMm, count: null, isBought: true }] : []),
  ])
}

/** The stock that a stick of a cutting is of, by the stick's own name for it. */
export function stockOfStick(name: string): string {
  return name.endsWith(boughtMark) ? name.slice(0, -boughtMark.length) : name
}

/** Both names of each stock, with the stock that they are of: for lists that show sticks. */
export function stockNames(stocks: readonly Pick<StockLength, 'id'>[]): { readonly [name: string]: string } {
  return Object.fromEntries(stocks.flatMap(({ id }) => [id, `${id}${boughtMark}`].map((name) => [name, id] as const)))
}
