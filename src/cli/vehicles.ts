import type { Plan } from '../core/plan/types.ts'
import {
  bodiesBothWays,
  swing,
  vehicleBodies,
  vehicleBodiesOf,
  vehicleByKey,
  vehicleCarShape,
  vehicleRows,
  type RigidBody,
} from '../core/vehicles/index.ts'
import { swingProblemText } from '../words/swingText.ts'
import { inBoth } from './answer.ts'
import { BadInput } from './badInput.ts'
import { nearestHint } from './nearest.ts'

/** A vehicle of the plan or a kind that Waybench describes, ready to be set on a line either way round. */
export interface ChosenVehicle {
  readonly key: string
  readonly name: string
  readonly isOfPlan: boolean
  readonly bodies: readonly RigidBody[]
}

/** So wide a curve that only the car's own sizes can be at fault. */
const wideMm = 1e9

/** The vehicle of an option: an id or name of the plan's, else a key or name of a kind. Throws BadInput. */
export function vehicleChosen(plan: Plan, typed: string, option: string): ChosenVehicle {
  const same = (name: string): boolean => name.toLowerCase() === typed.toLowerCase()
  const own = Object.values(plan.vehicles)
  const cars = own.filter(({ id }) => id === typed)
  const named = cars.length > 0 ? cars : own.filter(({ name }) => same(name))
  if (named.length > 1)
    throw new BadInput(`--${option} ${typed}: ${named.length} have this name; give the id: ${named.map(({ id }) => id).join(', ')}.`)
  const [car] = named
  if (car) {
    const trial = swing(wideMm, vehicleCarShape(car))
    if (!trial.ok) throw new BadInput(`--${option} ${typed}: ${swingProblemText(trial.problem, inBoth)}`)
    return { key: car.id, name: car.name, isOfPlan: true, bodies: bodiesBothWays(vehicleBodiesOf(car)) }
  }
  const row = vehicleByKey(typed) ?? vehicleRows.find(({ name }) => same(name))
  if (row) return { key: row.key, name: row.name, isOfPlan: false, bodies: bodiesBothWays(vehicleBodies(row, plan.railway.ratio)) }
  throw new BadInput(
    `--${option} ${typed}: no such vehicle. ${nearestHint(typed, [...own.map(({ id }) => id), ...vehicleRows.map(({ key }) => key)])}`,
  )
}
