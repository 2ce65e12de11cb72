export { roadbedOf } from './derive.ts'
export type * from './types.ts'
