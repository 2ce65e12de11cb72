export type { CarShape, Swing, SwingProblem } from './types.ts'
export { swing, trackCentresForCars } from './swing.ts'
export type { SwingResult, TrackCentresRequest, TrackCentresResult } from './swing.ts'
