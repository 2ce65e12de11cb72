import type { AlignmentProblem } from '../../../src/core/alignment/types.ts'
import type { CrossingProblem } from '../../../src/core/turnout/crossing/types.ts'
import type { TurnoutProblem } from '../../../src/core/turnout/types.ts'

/** One example or more of each kind: a kind without words does not compile in the words, one without an example not here. */
export type EachKind<P extends { readonly kind: string }> = {
  readonly [K in P['kind']]: ExampleOf<P, K> | readonly ExampleOf<P, K>[]
}
type ExampleOf<P extends { readonly kind: string }, K> = P extends { readonly kind: infer Own } ? (K extends Own ? P : never) : never

export const listOf = <P extends { readonly kind: string }>(each: EachKind<P>): readonly P[] =>
  Object.values<P | readonly P[]>(each).flat() as readonly P[]

export const at = { x: 0, y: 0 }

/* Of troubles that hold another one within, one of each does. */

export const lineProblem: AlignmentProblem = { kind: 'noCurvature', corner: 0 }

export const turnoutProblem: TurnoutProblem = { kind: 'noClosureSpread', shortByMm: 1, mostToeMm: 40, mostSpreadMm: 2.3 }

export const crossingProblem: CrossingProblem = { kind: 'meetAgain', atMm: 300 }
