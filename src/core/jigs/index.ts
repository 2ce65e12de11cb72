export { jigKinds, jigSolve } from './solve.ts'
export { jigUsual, pointAngleUsual, printerUsual } from './usual.ts'
export type * from './types.ts'
