export { cutRounds } from './rounds.ts'
export { cutStocks, stockNames, stockOfStick } from './stock.ts'
export type * from './types.ts'
