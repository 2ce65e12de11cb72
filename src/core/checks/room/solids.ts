import { fixedShapes } from '../../clearance/index.ts'
import type { Id, Plan } from '../../plan/types.ts'
import type { Rings } from './rings.ts'

/** What stands in the room, piece by piece. rings: of benchwork its outline and holes by the even-odd rule, else each a solid. */
export interface Solid {
  readonly table: 'benchworks' | 'obstacles' | 'walls'
  readonly record: Id
  readonly rings: Rings
  /** From the floor to where it begins. */
  readonly undersideMm: number
}

/** Benchwork, obstacles and walls of a plan, in this order. */
export function roomSolids(plan: Plan): readonly Solid[] {
  const benches = Object.values(plan.benchworks).map(
    ({ id, outline, holes }): Solid => ({ table: 'benchworks', record: id, rings: [outline, ...holes], undersideMm: 0 }),
  )
  const others = fixedShapes(plan).flatMap(({ kind, record, rings }): readonly Solid[] =>
    kind === 'benchworks' || record === null
      ? []
      : [{ table: kind, record, rings, undersideMm: kind === 'obstacles' ? (plan.obstacles[record]?.undersideMm ?? 0) : 0 }],
  )
  return [...benches, ...others.filter(({ table }) => table === 'obstacles'), ...others.filter(({ table }) => table === 'walls')]
}
