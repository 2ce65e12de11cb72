export type { CarShape, Swing, SwingProblem } from './types.ts'
export { swing, trackCentresForCars } from './swing.ts'
export type { SwingResult, TrackCentresRequest, TrackCentresResult } from './swing.ts'
export { couplerPinMm, trainCarOf, trainCarTurned } from './coupling/car.ts'
export { couplerOffsets } from './coupling/offsets.ts'
export { bodyPlaces } from './coupling/places.ts'
export { trainStance } from './coupling/train.ts'
export type * from './coupling/types.ts'
export {
  bodiesBothWays,
  bodyTurned,
  frameScaled,
  vehicleBodies,
  vehicleBodiesOf,
  vehicleByKey,
  vehicleCarShape,
  vehicleOfRow,
  vehicleRows,
} from './library/bodies.ts'
export { kindName, nameInRule } from './library/names.ts'
export type * from './library/types.ts'
export { bandEdges, sweepAlong, sweepBand, sweepStations } from './sweep/along.ts'
export type { BandEdges, SweepAlongOptions, SweptBand } from './sweep/along.ts'
export { bodiesLongest, bodyOfCar } from './sweep/bodies.ts'
export { sweepReach, sweepSideFinder } from './sweep/reach.ts'
export { bodyStance } from './sweep/stance.ts'
export type * from './sweep/types.ts'
export { steadyReach } from './sweep/steady.ts'
export type { SideReach } from './sweep/steady.ts'
