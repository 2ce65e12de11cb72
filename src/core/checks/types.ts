import type { AlignmentProblem } from '../alignment/types.ts'
import type { PlacementProblem } from '../network/types.ts'
import type { Id, TableName } from '../plan/types.ts'

export type RuleName =
  | 'minimum-radius'
  | 'alignment'
  | 'easement-fit'
  | 'benchwork-edge'
  | 'track-clearance'
  | 'minimum-frog'
  | 'turnout-place'
  | 'benchwork-outline'

export type Severity = 'error' | 'warning'

/** The stage in which the builder cures it. */
export type Stage = 'room' | 'line' | 'turnouts'

/** The smallest change that cures a finding, as data; the view words it and offers it. */
export type Cure =
  | { readonly kind: 'setRadius'; readonly track: Id; readonly corner: Id; readonly radiusMm: number }
  | { readonly kind: 'scaleEasements'; readonly track: Id; readonly corner: Id; readonly easementInMm: number; readonly easementOutMm: number }
  | { readonly kind: 'setFrog'; readonly turnout: Id; readonly frog: number }
  | { readonly kind: 'moveTurnout'; readonly turnout: Id; readonly stationMm: number }

/** The plan works and breaks a limit: where, by how much, against what. Lengths mm, angles rad. */
export interface Finding {
  /** Stable while the same thing stays wrong: rule and records. */
  readonly id: string
  readonly rule: RuleName
  readonly severity: Severity
  readonly stage: Stage
  readonly table: TableName
  readonly record: Id
  readonly otherRecord: Id | null
  readonly corner: Id | null
  readonly stationFromMm: number | null
  readonly stationToMm: number | null
  readonly x: number
  readonly y: number
  readonly measured: number | null
  readonly limit: number | null
  readonly unit: 'mm' | 'rad' | 'number'
  /** Key of the source of the limit, e.g. 'class:main', 'NMRA-S-3.2'. */
  readonly source: string
  readonly problem: AlignmentProblem | PlacementProblem | null
  readonly cure: Cure | null
}
