export { roadbedCut } from './cut.ts'
export { roadbedOf } from './derive.ts'
export type * from './types.ts'
