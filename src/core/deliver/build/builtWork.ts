import type { Pose } from '../../geom/types.ts'
import type { Derived } from '../../pipeline/types.ts'
import { constructionOf, crossingConstructionOf } from '../../turnout/index.ts'
import type { TurnoutConstruction, WorkRoute } from '../../turnout/index.ts'
import type { BuiltSubject } from '../types.ts'
import { crossingParts, turnoutParts } from './tables.ts'
import type { BuiltParts } from './tables.ts'

/** A turnout or crossing that is set in the plan, with all that the bench needs of it. */
export interface BuiltWorkSet {
  readonly name: string
  readonly pose: Pose
  readonly parts: BuiltParts
  readonly routes: readonly WorkRoute[]
  readonly made: TurnoutConstruction
}

export type BuiltWorkResult = { readonly ok: true; readonly work: BuiltWorkSet } | { readonly ok: false; readonly problem: string }

/** The special work of a subject; or why there is nothing to build. */
export function builtWorkSet(derived: Derived, { id, of, practice }: BuiltSubject): BuiltWorkResult {
  const refuse = (problem: string): BuiltWorkResult => ({ ok: false, problem })
  if (of === 'crossing') {
    const crossing = derived.network.crossings.get(id)
    if (!crossing) return refuse(`There is no crossing "${id}" in the plan.`)
    const { result, pose } = crossing
    const name = crossingName(crossing.record)
    if (!result.ok) return refuse(`Crossing "${name}" could not be computed; its finding says what to change.`)
    const { crossing: geometry } = result
    const made = crossingConstructionOf(geometry, practice)
    return { ok: true, work: { name, pose, parts: crossingParts(geometry), routes: geometry.routes, made } }
  }
  const placed = derived.network.turnouts.get(id)
  if (!placed) return refuse(`There is no turnout "${id}" in the plan.`)
  const { turnout, result } = placed
  if (!result.ok) return refuse(`Turnout "${turnout.name}" could not be computed; its finding says what to change.`)
  const { geometry, pose } = result
  const made = constructionOf(geometry, practice)
  return { ok: true, work: { name: turnout.name, pose, parts: turnoutParts(geometry), routes: geometry.routes, made } }
}

/** A crossing that nobody has named is called what it is. */
export function crossingName(record: { readonly name: string } | null): string {
  return record?.name ?? 'Crossing'
}
