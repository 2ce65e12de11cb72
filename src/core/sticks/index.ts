export { cutRounds } from './rounds.ts'
export type * from './types.ts'
