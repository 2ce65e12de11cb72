import type { NetworkTrack } from '../../core/network/index.ts'
import type { Plan, Vehicle } from '../../core/plan/types.ts'
import { bodiesBothWays, couplerPinMm, kindName, trainCarOf, vehicleBodies, vehicleRows } from '../../core/vehicles/index.ts'
import type { RigidBody, TrainCar } from '../../core/vehicles/index.ts'

/** A vehicle that can be chosen to run: of the plan, or a kind that Waybench describes. */
export interface CarChoice {
  /** Vehicles of the plan and kinds do not share a key. */
  readonly key: string
  readonly name: string
  readonly isOfPlan: boolean
  readonly car: TrainCar
  readonly swingRad: number
}

/** Vehicles of the plan first, as they are called there, then every kind, by its length in the rule that is measured with. */
export function carChoices(
  { vehicles, railway: { ratio } }: Pick<Plan, 'vehicles' | 'railway'>,
  units: 'imperial' | 'metric' = 'imperial',
): readonly CarChoice[] {
  const pinMm = couplerPinMm(ratio)
  return [
    ...Object.values(vehicles).map((vehicle) => ({
      key: `own:${vehicle.id}`,
      name: vehicle.name,
      isOfPlan: true,
      car: trainCarOf(vehicle, ratio),
      swingRad: vehicle.couplerSwingRad,
    })),
    ...vehicleRows.map((row) => ({
      key: `kind:${row.key}`,
      name: kindName(row, units),
      isOfPlan: false,
      car: { bodies: vehicleBodies(row, ratio), overCouplersMm: row.overCouplersMm / ratio, pinMm },
      swingRad: row.couplerSwingRad,
    })),
  ]
}

/** What is held to run on a track: the car chosen, or (null) the worst of the track's class; either way round. */
export function bodiesOnTrack(choices: readonly CarChoice[], cars: string | null): (track: NetworkTrack) => readonly RigidBody[] {
  const made = new Map<string, readonly RigidBody[]>()
  const of = (keys: readonly string[]): readonly RigidBody[] => {
    const name = keys.join(' ')
    const known = made.get(name)
    if (known !== undefined) return known
    const bodies = bodiesBothWays(choices.filter(({ key }) => keys.includes(key)).flatMap(({ car }) => car.bodies))
    made.set(name, bodies)
    return bodies
  }
  return ({ lineClass }) => of(cars === null ? lineClass.cars.map((id: Vehicle['id']) => `own:${id}`) : [cars])
}
