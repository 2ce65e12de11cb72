export { tiesOf } from './derive.ts'
export { tieOrders } from './orders.ts'
export type * from './types.ts'
