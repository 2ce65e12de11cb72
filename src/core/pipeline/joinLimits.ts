import type { JoinLimits } from '../alignment/index.ts'
import type { LineClass, Plan } from '../plan/types.ts'
import { vehicleCarShape } from '../vehicles/index.ts'

/** What a person asks of a join instead of what the class and the cars ask; null: as these do. */
export interface JoinWishes {
  readonly tangentMm: number | null
  readonly shortestMm: number | null
  readonly minRadiusMm?: number | null
  /** The radius that curves are to have where it fits; one under the class's least is asked for on purpose. */
  readonly mostRadiusMm?: number | null
  /** Length of each easement whatever the radius; 0: none. */
  readonly easementMm?: number | null
}

/** What a line class asks of a join: its radius, easements and shortest curve, and the longest car of the plan between reverses. */
export function joinLimits(plan: Plan, lineClass: LineClass, wishes: JoinWishes): JoinLimits {
  const { tangentMm, shortestMm, minRadiusMm = null, mostRadiusMm = null, easementMm = null } = wishes
  return {
    minRadiusMm: Math.min(minRadiusMm ?? lineClass.minRadiusMm, mostRadiusMm ?? Infinity),
    ...(mostRadiusMm === null ? {} : { mostRadiusMm }),
    easement: easementMm === null ? lineClass.easement : easementMm > 0 ? { kind: 'length', lengthMm: easementMm } : { kind: 'none' },
    shortestCurveMm: shortestMm ?? lineClass.minCurveMm,
    tangentBetweenMm: tangentMm ?? longestCarMm(plan),
    isBackToBackAllowed: true,
  }
}

const longestCarMm = (plan: Plan): number =>
  Object.values(plan.vehicles).reduce((most, car) => Math.max(most, vehicleCarShape(car).bodyLengthMm), 0)
