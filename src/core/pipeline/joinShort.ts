import type { JoinAlternative } from '../alignment/index.ts'
import { easementAsked } from '../checks/index.ts'
import { railwayOfClass } from '../plan/index.ts'
import type { LineClass, Plan } from '../plan/types.ts'

/** Something of a line that is less than the class asks. */
export interface ClassShort {
  readonly what: 'radius' | 'easement'
  readonly reachedMm: number
  readonly askedMm: number
}

/** A length this much short still keeps what is asked, as in the checks: a typed one shows no more digits. */
const roundingMm = 0.1

/** Of each thing that the class asks the worst place. As the checks tell it. */
export function classShort({ corners, minRadiusMm }: JoinAlternative, lineClass: LineClass, { railway }: Plan): readonly ClassShort[] {
  const radius: readonly ClassShort[] =
    minRadiusMm !== null && minRadiusMm < lineClass.minRadiusMm - roundingMm
      ? [{ what: 'radius', reachedMm: minRadiusMm, askedMm: lineClass.minRadiusMm }]
      : []
  const own = railwayOfClass(railway, lineClass)
  const easements = corners.flatMap(({ radiusMm, easementInMm, easementOutMm }): readonly ClassShort[] => {
    const askedMm = easementAsked(lineClass, own, radiusMm)
    // A wide turn is laid as two corners whose arc runs on between them: there they have none.
    const isSplit = corners.length > 1 && (easementInMm === 0) !== (easementOutMm === 0)
    const reachedMm = isSplit ? Math.max(easementInMm, easementOutMm) : Math.min(easementInMm, easementOutMm)
    return reachedMm < askedMm - roundingMm ? [{ what: 'easement', reachedMm, askedMm }] : []
  })
  const [worst] = easements.toSorted((a, b) => b.askedMm - b.reachedMm - (a.askedMm - a.reachedMm))
  return worst === undefined ? radius : [...radius, worst]
}
