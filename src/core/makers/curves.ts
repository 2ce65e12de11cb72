import { cornerSolve, easementByRule } from '../alignment/index.ts'
import type { CornerSolution } from '../alignment/types.ts'
import type { ByClass, LineClass } from '../plan/types.ts'
import { done, fail } from './site.ts'
import type { Outcome } from './types.ts'

/** Tangent distance of a plain arc: R tan(turn / 2). mm, rad. */
export const arcTangent = (radiusMm: number, turnRad: number): number => radiusMm * Math.tan(Math.abs(turnRad) / 2)

/** How much shorter than its two tangents a plain arc is. */
export const arcSaving = (radiusMm: number, turnRad: number): number => 2 * arcTangent(radiusMm, turnRad) - radiusMm * Math.abs(turnRad)

export const radiusOf = (radius: ByClass, lineClass: LineClass): number => (radius === 'class' ? lineClass.usualRadiusMm : radius)

/** Which ends of a curve have the easement of the class: those where a tangent lies. */
export interface EasedEnds {
  readonly isIn: boolean
  readonly isOut: boolean
}

/**
 * A corner of a class's radius with its easements where they are asked.
 *
 * Outcome: the solved corner; or by how much its easements turn more than it does.
 */
export function cornerOfClass(lineClass: LineClass, radiusMm: number, turnRad: number, eased: EasedEnds): Outcome<CornerSolution> {
  const easement = easementByRule(lineClass.easement, radiusMm)
  if (!easement.ok)
    return fail({ kind: 'badNumber', where: 'radius', value: radiusMm, expected: 'a radius that the easement of the class can lead into' })
  const { lengthMm } = easement
  const solved = cornerSolve({
    deflectionRad: turnRad,
    radiusMm,
    easementInMm: eased.isIn ? lengthMm : 0,
    easementOutMm: eased.isOut ? lengthMm : 0,
  })
  if (solved.ok) return done(solved.corner)
  const { problem } = solved
  if (problem.kind === 'easementsTooLong') return fail({ kind: 'easementsTooLong', radiusMm, shortByMm: problem.shortByMm })
  return fail({ kind: 'line', part: '', problem })
}

/** The easements of such a corner as they stand in its record. */
export const easementsOf = ({ isIn, isOut }: EasedEnds): { readonly easementIn: ByClass; readonly easementOut: ByClass } => ({
  easementIn: isIn ? 'class' : 0,
  easementOut: isOut ? 'class' : 0,
})
