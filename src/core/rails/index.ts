export { jointStations, railsCreateDeriver } from './derive.ts'
export { lineNearest, linePoseAt, runPlaceNear } from './lines.ts'
export type * from './types.ts'
