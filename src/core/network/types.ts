import type { Alignment } from '../alignment/types.ts'
import type { Pose } from '../geom/types.ts'
import type { Crossing, Id, LineClass, Plan, Railway, Table, Track, TrackEndName, Turnout, Vehicle } from '../plan/types.ts'
import type { CrossingResult } from '../turnout/crossing/types.ts'
import type { TurnoutGeometry, TurnoutLegPose, TurnoutProblem } from '../turnout/types.ts'

/** A track with its solved line. The object stays the same as long as nothing it was made from changes. */
export interface NetworkTrack {
  readonly track: Track
  readonly lineClass: LineClass
  /** With the rail and the ties of the class. */
  readonly railway: Railway
  readonly alignment: Alignment
}

export type PlacementProblem =
  | { readonly kind: 'hostMissing' }
  | { readonly kind: 'hostUnsolved' }
  /** Stretch of the host that the turnout takes runs past the track's end. overMm: by how much. */
  | { readonly kind: 'runsOff'; readonly end: TrackEndName; readonly overMm: number }
  /** A wye stands at the end of its track; its points are off it. */
  | { readonly kind: 'wyeOffEnd'; readonly end: TrackEndName; readonly endMm: number; readonly offMm: number }
  /** A wye needs an end of its track for itself: this one is closed to a loop or hangs on another turnout. */
  | { readonly kind: 'wyeEndTaken'; readonly end: TrackEndName }
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

/**
 * A place where two tracks cross at one level. `track` is the first one; the second is run through against its stations where
 * that turns less. Tracks that meet so flat that nothing could be built are no crossing.
 */
export interface NetworkCrossing {
  /** Id of the record; where nothing was chosen, both tracks and the count of their meetings. */
  readonly id: string
  readonly record: Crossing | null
  readonly track: Id
  readonly other: Id
  readonly stationMm: number
  readonly otherStationMm: number
  readonly isOtherReversed: boolean
  /** The crossing's frame: where the centrelines meet, heading along the first track. */
  readonly pose: Pose
  readonly result: CrossingResult
}

export interface Network {
  readonly tracks: ReadonlyMap<string, NetworkTrack>
  readonly turnouts: ReadonlyMap<string, NetworkTurnout>
  /** Turnouts by host track, by rising station. */
  readonly turnoutsOn: ReadonlyMap<string, readonly NetworkTurnout[]>
  readonly crossings: ReadonlyMap<string, NetworkCrossing>
  /** Crossings by track, its own and those it is the other of, by rising station. */
  readonly crossingsOn: ReadonlyMap<string, readonly NetworkCrossing[]>
  readonly vehicles: Table<Vehicle>
  readonly plan: Plan
}
