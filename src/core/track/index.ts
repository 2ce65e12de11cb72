export { trackworkCreateDeriver } from './derive.ts'
export { railFlatten, railToCubics, tieCorners } from './rail.ts'
export type { RailEdge } from './rail.ts'
export type * from './types.ts'
