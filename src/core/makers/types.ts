import type { ParallelProblem } from '../alignment/index.ts'
import type { AlignmentProblem } from '../alignment/types.ts'
import type { PlanCommand } from '../edit/types.ts'
import type { PlacementProblem } from '../network/types.ts'
import type { Corner, Facing, FreeEnd, Hand, Id, TrackEndName } from '../plan/types.ts'
import type { TurnoutProblem } from '../turnout/types.ts'

/** Why a maker cannot make what its numbers ask, with the value that would do where there is one. Lengths mm, angles rad. */
export type MakerProblem =
  | { readonly kind: 'hostMissing'; readonly track: Id }
  | { readonly kind: 'hostUnsolved'; readonly track: Id }
  | { readonly kind: 'classMissing'; readonly lineClass: Id }
  | { readonly kind: 'sameTrack'; readonly track: Id }
  /** A number that is none, or out of its range. `where`: dotted path in the numbers. */
  | { readonly kind: 'badNumber'; readonly where: string; readonly value: number; readonly expected: string }
  | { readonly kind: 'turnout'; readonly frog: number; readonly problem: TurnoutProblem }
  /** No straight of the host holds all that is made there. nearestMm: stations that would do, the nearest first; none: needMm of straight is nowhere. */
  | {
      readonly kind: 'station'
      readonly where: 'stationMm' | 'fromMm' | 'toMm'
      readonly track: Id
      readonly stationMm: number
      readonly nearestMm: readonly number[]
      readonly needMm: number
      readonly haveMm: number
    }
  /** The tracks run together at this angle where the crossover should lie; mostRad: must be less, 0: they must be parallel. */
  | { readonly kind: 'notParallel'; readonly track: Id; readonly otherTrack: Id; readonly angleRad: number; readonly mostRad: number }
  /** From leg to leg a crossover turns so much that its radius falls under that of the class; mostAngleRad would do over its length. */
  | {
      readonly kind: 'crossoverTooSharp'
      readonly angleRad: number
      readonly radiusMm: number
      readonly leastRadiusMm: number
      readonly mostAngleRad: number
    }
  | { readonly kind: 'centresTooSmall'; readonly where: CentresName; readonly centresMm: number; readonly leastMm: number }
  /** No line runs beside the host at these centres. */
  | { readonly kind: 'beside'; readonly track: Id; readonly problem: ParallelProblem }
  /** The next points would stand on the last frog's long ties: pitch along the ladder as it is and as it would have to be. */
  | {
      readonly kind: 'ladderTooTight'
      readonly pitchMm: number
      readonly leastPitchMm: number
      readonly centresMm: number
      readonly leastCentresMm: number
    }
  /** The two ends leave less between them than they need. */
  | { readonly kind: 'tooShort'; readonly what: 'siding' | 'turnback'; readonly haveMm: number; readonly needMm: number }
  /** The base of the wye is longer than any straight of its host; mostMm: the largest radius that fits, null: none does. */
  | { readonly kind: 'baseTooShort'; readonly haveMm: number; readonly needMm: number; readonly mostRadiusMm: number | null }
  | { readonly kind: 'endNotFree'; readonly track: Id; readonly end: TrackEndName }
  /** The two ends do not look the same way, or one lies before the other. */
  | { readonly kind: 'endsApart'; readonly angleRad: number }
  | { readonly kind: 'noLoop'; readonly radiusMm: number }
  /** Between its margins no curve finds room. */
  | { readonly kind: 'acrossTooSmall'; readonly acrossMm: number; readonly leastMm: number }
  /** In one turn the helix rises less than its own deck takes; leastMm leaves the clear height too. */
  | { readonly kind: 'riseTooLow'; readonly riseMm: number; readonly leastMm: number }
  /** The climb is done before the curve is: before its easements have room, or before a turn that leaves straight on is round. */
  | { readonly kind: 'climbTooLow'; readonly climbMm: number; readonly leastMm: number }
  | { readonly kind: 'tooManyTurns'; readonly turns: number; readonly mostTurns: number; readonly mostClimbMm: number }
  | { readonly kind: 'easementsTooLong'; readonly radiusMm: number; readonly shortByMm: number }
  /** A made part that does not come out, for a reason none of the above tells. */
  | { readonly kind: 'line'; readonly part: string; readonly problem: AlignmentProblem }
  | { readonly kind: 'place'; readonly part: string; readonly problem: PlacementProblem }

/** Track centres by where they stand: measured between two tracks, or a number of the maker. */
export type CentresName = 'measured' | 'centresMm' | 'leadCentresMm'

export type Outcome<T> = { readonly ok: true; readonly value: T } | { readonly ok: false; readonly problem: MakerProblem }

export type MakerResult =
  | { readonly ok: true; readonly command: Extract<PlanCommand, { readonly kind: 'maker.write' }>; readonly facts: readonly MakerFact[] }
  | { readonly ok: false; readonly problem: MakerProblem }

/** What came out, to be shown beside the numbers. */
export interface MakerFact {
  readonly name:
    | 'centresMm'
    | 'frogToFrogMm'
    | 'pointsToPointsMm'
    | 'straightBetweenMm'
    | 'betweenLegsMm'
    | 'pitchAlongLadderMm'
    | 'pitchAlongBodyMm'
    | 'leastPitchMm'
    | 'shorterByMm'
    | 'ladderMm'
    | 'baseMm'
    | 'reachMm'
    | 'radiusMm'
    | 'throatMm'
    | 'tracksOnSecondLadder'
    | 'turns'
    | 'helixMm'
    | 'risePerTurnMm'
    | 'clearMm'
    | 'grade'
    | 'effectiveGrade'
    | 'classGrade'
    | 'outsideMm'
    | 'secondOutsideMm'
  readonly value: number
  /** Past a limit of the class or the scale. */
  readonly isOver?: boolean
}

/** Where a made turnout sits: on a track of the plan, or on a made one by its place among the made tracks. */
export type PartHost = { readonly kind: 'plan'; readonly id: Id } | { readonly kind: 'made'; readonly track: number }

export interface TurnoutPart {
  readonly kind: 'turnout'
  /** What tells it from the others of its maker: added to the maker's name. */
  readonly word: string
  readonly host: PartHost
  readonly stationMm: number
  readonly facing: Facing
  readonly hand: Hand
  readonly frog: number
  /** It was looked for on the host as it bends; any other one is counted on a straight and must find one. */
  readonly mayBend?: boolean
}

export type PartCorner = Omit<Corner, 'id'>

export type PartEnd = FreeEnd | { readonly kind: 'leg'; readonly turnout: number }

export interface TrackPart {
  readonly kind: 'track'
  readonly word: string
  readonly start: PartEnd
  readonly corners: readonly PartCorner[]
  readonly end: PartEnd
}

/** What a maker makes, in an order in which each part can be solved: hosts before their turnouts, turnouts before the tracks at their legs. */
export interface Parts {
  readonly parts: readonly (TurnoutPart | TrackPart)[]
  readonly facts: readonly MakerFact[]
}
