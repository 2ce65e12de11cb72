import type { PlanCommand } from '../../edit/types.ts'
import type { Id, LineClass, Plan, Track, TrackEndName } from '../../plan/types.ts'
import type { Alignment } from '../types.ts'

/** A track with its solved line and the plan it belongs to. */
export interface TrackInPlan {
  readonly plan: Plan
  readonly track: Track
  readonly lineClass: LineClass
  readonly alignment: Extract<Alignment, { readonly ok: true }>
}

/** Stations of its track that a turnout takes; on a loop they may run past its ends. */
export interface TakenStretch {
  readonly turnout: Id
  readonly fromMm: number
  readonly toMm: number
}

export type TrackOperationProblem =
  | { readonly kind: 'notFinite'; readonly where: string }
  | { readonly kind: 'offTrack'; readonly stationMm: number; readonly lengthMm: number }
  /** Nothing would be left of one of the parts. */
  | { readonly kind: 'atEnd'; readonly stationMm: number }
  /** A track is cut on a tangent or in an arc of one radius; the nearest such stations before and behind. */
  | { readonly kind: 'inEasement'; readonly stationMm: number; readonly beforeMm: number; readonly behindMm: number }
  | { readonly kind: 'inTurnout'; readonly turnout: Id; readonly fromMm: number; readonly toMm: number }
  /** These stand on the part that would go. */
  | { readonly kind: 'turnoutsBeyond'; readonly turnouts: readonly Id[] }
  /** A maker counts its numbers along this track. */
  | { readonly kind: 'carriesMaker'; readonly maker: Id }
  | { readonly kind: 'endNotFree'; readonly track: Id; readonly end: TrackEndName }
  | { readonly kind: 'notPositive'; readonly where: string; readonly value: number }
  | { readonly kind: 'notALoop'; readonly track: Id }
  | { readonly kind: 'isALoop'; readonly track: Id }
  | { readonly kind: 'tooFewCorners'; readonly have: number; readonly need: number }
  /** The ends to be joined lie apart, or meet at an angle. */
  | { readonly kind: 'apart'; readonly distanceMm: number }
  | { readonly kind: 'kink'; readonly turnRad: number }
  | { readonly kind: 'sameTrack'; readonly track: Id }
  /** The end lies on the other track, and nowhere else can it be brought there. */
  | { readonly kind: 'meetsAlready'; readonly end: TrackEndName; readonly otherTrack: Id }
  /** The track does not cross the other, nor does its end run straight on, or it holds a leg and cannot (isFree false). awayMm: from the end. */
  | {
      readonly kind: 'noMeeting'
      readonly end: TrackEndName
      readonly isFree: boolean
      readonly otherTrack: Id
      readonly awayMm: number
      readonly otherStationMm: number
    }

export type TrackOperationResult =
  | { readonly ok: true; readonly command: PlanCommand }
  | { readonly ok: false; readonly problem: TrackOperationProblem }
