export { layingLists } from './lists.ts'
export { shoppingOf } from './shopping.ts'
export type * from './types.ts'
