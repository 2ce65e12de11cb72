export { jointStations, railsCreateDeriver } from './derive.ts'
export type * from './types.ts'
