import { recordFind } from '../plan/index.ts'
import type { LineClass, Plan, Vehicle } from '../plan/types.ts'
import { bodiesBothWays, swing, vehicleBodiesOf, vehicleCarShape } from '../vehicles/index.ts'
import type { RigidBody } from '../vehicles/index.ts'
import { bodiesFeel } from './steady.ts'

/** The worst that runs on the tracks of a class: what stands over the rails, either way round. */
export interface ClassCars {
  /** The longest. */
  readonly car: Vehicle | null
  /** All of it. */
  readonly vehicles: readonly Vehicle[]
  /** Empty: no car is known, and track centres count. */
  readonly bodies: readonly RigidBody[]
  /** How far along a line they feel it. */
  readonly feelMm: number
}

/** So wide a curve that only the car's own sizes can be at fault. */
const WIDE_MM = 1e9

/** The vehicles that a class names, as far as they are there. */
export function classVehicles({ cars }: LineClass, plan: Pick<Plan, 'vehicles'>): readonly Vehicle[] {
  return cars.map((id) => recordFind(plan, 'vehicles', id)).filter((car) => car !== null)
}

const lengthOf = (car: Vehicle): number => vehicleCarShape(car).bodyLengthMm

/** What runs on a class, and the longest of it; a car whose sizes contradict each other counts as none. */
export function classCars(vehicles: readonly Vehicle[]): ClassCars {
  const usable = vehicles.filter((car) => swing(WIDE_MM, vehicleCarShape(car)).ok)
  const car = usable.reduce<Vehicle | null>((most, one) => (most === null || lengthOf(one) > lengthOf(most) ? one : most), null)
  const bodies = bodiesBothWays(usable.flatMap(vehicleBodiesOf))
  return { car, vehicles: usable, bodies, feelMm: bodiesFeel(bodies) }
}
