import type { SilencedFinding } from '../../checks/index.ts'
import type { Finding } from '../../checks/types.ts'
import type { NearestGaps } from '../../clearance/index.ts'
import type { Id, LineClass, Plan } from '../../plan/types.ts'

/** The least that a track came to: lengths in mm. null: it has no such thing. */
export interface TrackAchieved {
  readonly track: Id
  readonly lineClass: LineClass
  readonly lengthMm: number
  readonly leastRadiusMm: number | null
  /** Of the easements that it has, the shortest. */
  readonly shortestEasementMm: number | null
  /** Straight between two curves of opposite hand, with half of the easements beside it, where it is shortest. */
  readonly shortestReverseMm: number | null
  readonly leastFrog: number | null
  readonly turnouts: number
  /** The longest stretch on which cars stand clear of everything else; null: there is none. */
  readonly clearMm: number | null
  /** How many of the longest car of its class stand there; null: no car is known. */
  readonly clearCars: number | null
  /** By what the worst cars of the classes sweep; null: nothing is known to run on the track. */
  readonly gaps: NearestGaps | null
  readonly findings: number
}

/** What a plan asks of itself, where it falls short, and what it came to. */
export interface Report {
  readonly plan: Plan
  readonly findings: readonly Finding[]
  readonly silenced: readonly SilencedFinding[]
  readonly tracks: readonly TrackAchieved[]
}
