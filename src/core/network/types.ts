import type { Alignment } from '../alignment/types.ts'
import type { Pose } from '../geom/types.ts'
import type { LineClass, Plan, Railway, Table, Track, Turnout, Vehicle } from '../plan/types.ts'
import type { TurnoutGeometry, TurnoutLegPose, TurnoutProblem } from '../turnout/types.ts'

/** A track with its solved line. The object stays the same as long as nothing it was made from changes. */
export interface NetworkTrack {
  readonly track: Track
  readonly lineClass: LineClass
  readonly railway: Railway
  readonly alignment: Alignment
}

export type PlacementProblem =
  | { readonly kind: 'hostMissing' }
  | { readonly kind: 'hostUnsolved' }
  /** Stretch of the host that the turnout takes runs past the track's end. overMm: by how much. */
  | { readonly kind: 'runsOff'; readonly end: 'start' | 'end'; readonly overMm: number }
  /** The host is not straight over the whole turnout; straight from..to is the tangent that holds PS, if any. */
  | { readonly kind: 'hostNotStraight'; readonly straightFromMm: number; readonly straightToMm: number }
  | { readonly kind: 'geometry'; readonly problem: TurnoutProblem }

/** A turnout set on its host. pose: PS on the host centreline, heading from points to frog. */
export interface NetworkTurnout {
  readonly turnout: Turnout
  readonly lineClass: LineClass | null
  readonly result:
    | {
        readonly ok: true
        readonly pose: Pose
        readonly geometry: TurnoutGeometry
        /** Every leg in the plan; `leg` is the diverging one, which all kinds have. */
        readonly legs: readonly TurnoutLegPose[]
        readonly leg: Pose
      }
    | { readonly ok: false; readonly problem: PlacementProblem; readonly geometry: TurnoutGeometry | null; readonly pose: Pose | null }
}

export interface Network {
  readonly tracks: ReadonlyMap<string, NetworkTrack>
  readonly turnouts: ReadonlyMap<string, NetworkTurnout>
  /** Turnouts by host track, by rising station. */
  readonly turnoutsOn: ReadonlyMap<string, readonly NetworkTurnout[]>
  readonly vehicles: Table<Vehicle>
  readonly plan: Plan
}
