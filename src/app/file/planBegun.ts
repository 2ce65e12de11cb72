import { dataFreeze, planEmpty } from '../../core/plan/index.ts'
import type { Plan } from '../../core/plan/types.ts'
import { nameInRule } from '../../core/vehicles/index.ts'

/** A new plan of a scale, its cars named in the rule that its builder measures with; null as `planEmpty`. */
export function planBegun(scaleKey: string, units: 'imperial' | 'metric'): Plan | null {
  const plan = planEmpty(scaleKey, units)
  if (plan === null) return null
  const cars = Object.entries(plan.vehicles).map(([id, car]) => [id, { ...car, name: nameInRule(car.name, units) }] as const)
  return dataFreeze({ ...plan, vehicles: Object.fromEntries(cars) })
}
