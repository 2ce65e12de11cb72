export { BLUNDER_SHARE, ringSides, roomTraverse } from './traverse.ts'
export type { MeasuredCorner, MeasuredSide, Misclosure, Traverse, TraverseProblem } from './traverse.ts'
export { insideOf, shelfAlong, wallRun } from './shelf.ts'
export type { Shelf, ShelfProblem } from './shelf.ts'
