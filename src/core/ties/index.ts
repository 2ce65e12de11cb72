export { tiesOf } from './derive.ts'
export { tieJigOf } from './jig.ts'
export { tieOrders } from './orders.ts'
export type * from './types.ts'
