import type { Pose } from '../../geom/types.ts'
import type { TurnoutLeg } from '../../plan/types.ts'
import type { CrossingGeometry, CrossingProblem } from '../crossing/types.ts'
import type { TurnoutGeometry } from '../types.ts'

/** A turnout into which a crossing of the track on its leg reaches; `pose`: its PS in the crossing's frame. */
export interface JoinArm {
  readonly geometry: TurnoutGeometry
  readonly pose: Pose
  readonly leg: TurnoutLeg
}

/** The turnouts at both ends of a track of a crossing, run through as the crossing has it; null: the crossing does not reach so far. */
export interface JoinEnds {
  readonly start: JoinArm | null
  readonly end: JoinArm | null
}

export interface JoinRequest {
  readonly crossing: CrossingGeometry
  readonly first: JoinEnds
  readonly second: JoinEnds
}

/** turnouts: those at the start and the end of the first track, then of the second. */
export type JoinResult =
  | { readonly ok: true; readonly crossing: CrossingGeometry; readonly turnouts: readonly (TurnoutGeometry | null)[] }
  | { readonly ok: false; readonly problem: CrossingProblem }
