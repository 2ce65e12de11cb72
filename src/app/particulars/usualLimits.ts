import type { PlanCommand } from '../../core/edit/types.ts'
import { planEmpty } from '../../core/plan/index.ts'
import type { Plan, Vehicle } from '../../core/plan/types.ts'
import { lineClassesForGauge, lineClassInMetric } from '../../core/standards/index.ts'
import type { GaugeRow } from '../../core/standards/index.ts'
import { frameScaled, nameInRule } from '../../core/vehicles/index.ts'
import { planBegun } from '../file/planBegun.ts'

/** The step that brings radii and cars along to a scale, in round figures of the rule that is measured with. */
export function usualLimits(plan: Plan, row: GaugeRow, units: 'imperial' | 'metric'): PlanCommand {
  const commands: PlanCommand[] = []
  for (const printed of lineClassesForGauge(row)) {
    const standard = units === 'metric' ? lineClassInMetric(printed) : printed
    const own = Object.values(plan.lineClasses).find((lineClass) => lineClass.name.toLowerCase() === standard.name.toLowerCase())
    if (own === undefined) continue
    // Cars, rules and what the class is laid with are the builder's own.
    const { id: _id, name: _name, cars: _cars, rules: _rules, rail: _rail, tie: _tie, roadbed: _roadbed, ...rest } = standard
    const { jointTieSpacingMm: _joints, superelevationMm: _cant, ...limits } = rest
    commands.push({ kind: 'lineClass.set', id: own.id, change: limits })
  }
  for (const car of usualCars(row, units)) {
    const { id, ...sizes } = car
    commands.push(plan.vehicles[id] === undefined ? { kind: 'vehicle.add', record: car } : { kind: 'vehicle.set', id, change: sizes })
  }
  return { kind: 'group', label: `Take usual limits of ${row.name}`, commands }
}

/** The cars that a new plan of this scale begins with; those of HO brought to scale where the scale is one's own. */
function usualCars(row: GaugeRow, units: 'imperial' | 'metric'): readonly Vehicle[] {
  const fresh = planBegun(row.key, units)
  if (fresh !== null) return Object.values(fresh.vehicles)
  const standard = planEmpty()
  const byScale = standard.railway.ratio / row.ratio
  return Object.values(standard.vehicles).map((car) => ({
    ...car,
    name: nameInRule(car.name, units),
    overCouplersMm: car.overCouplersMm * byScale,
    heightMm: car.heightMm * byScale,
    frames: car.frames.map((frame) => frameScaled(frame, (mm) => mm * byScale)),
  }))
}
