import type { Vehicle } from '../../plan/types.ts'
import { bodyTurned, vehicleBodiesOf } from '../library/bodies.ts'
import type { TrainCar } from './types.ts'

/** From the face of a coupler back to the pin that it swings about, full size, mm: 30 in. [from memory] */
const pinBehindFaceMm = 762

/** The same on the model. */
export function couplerPinMm(ratio: number): number {
  return pinBehindFaceMm / ratio
}

/** A vehicle of the plan as what is coupled into a train, front first. */
export function trainCarOf(vehicle: Pick<Vehicle, 'frames' | 'overCouplersMm'>, ratio: number): TrainCar {
  return { bodies: vehicleBodiesOf(vehicle), overCouplersMm: vehicle.overCouplersMm, pinMm: couplerPinMm(ratio) }
}

/** The same car run the other way round. */
export function trainCarTurned(car: TrainCar): TrainCar {
  return { ...car, bodies: car.bodies.toReversed().map(bodyTurned) }
}
