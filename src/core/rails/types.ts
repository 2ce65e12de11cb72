import type { Path } from '../geom/types.ts'
import type { Id, RailSize } from '../plan/types.ts'
import type { JointRule } from '../turnout/index.ts'
import type { RailPart } from '../turnout/types.ts'

// Rails to cut, mark, bend and lay. mm on the model; lengths along the gauge line of each rail unless they are called stations.

export type RailSide = 'left' | 'right'

/**
 * A place on a rail. station: of the track's centreline, abreast of it; on rails through a turnout that the track hangs on it goes on below
 * 0 or past the track's length. side: as seen along rising station.
 */
export interface RailPlace {
  readonly track: Id
  readonly rail: RailSide
  readonly stationMm: number
}

/** In what a piece lies: plain track, or the special work that it is made for. */
export type RailOwner =
  | { readonly kind: 'track'; readonly track: Id }
  | { readonly kind: 'turnout'; readonly turnout: Id }
  /** As the network names it. */
  | { readonly kind: 'crossing'; readonly crossing: string }

/**
 * Why a rail ends. end: the track does; gap: isolated; heel: of a moving point; work: where a rail of special work begins whose line goes
 * on; open: no rail follows, as behind a wing, at a point's tip, a guard's ends or
 * a flangeway; section: rail of another code follows.
 */
export type BreakKind = 'end' | 'gap' | 'heel' | 'work' | 'open' | 'section'

/** An end that the trackwork sets; not for the joint plan to move. gapMm: clear width, half of it taken from each rail. */
export interface RailBreak {
  readonly kind: BreakKind
  readonly gapMm: number
}

/** plain: track and stock rails; the rest are rails of special work. */
export type RunKind = 'plain' | RailPart

/** Rail between two breaks, over as many tracks and turnouts as it goes on. Of a closed run start and end are one joint. */
export interface RailRun {
  readonly id: string
  readonly kind: RunKind
  readonly code: number
  /** Middle of one break to the middle of the next. */
  readonly lengthMm: number
  readonly isClosed: boolean
  readonly start: RailBreak
  readonly end: RailBreak
  /** In order from its start. */
  readonly stretches: readonly RunStretch[]
  /** Marks of its pieces, in order. */
  readonly pieces: readonly string[]
}

/** A stretch of a run with the place of both its ends; null: on no track's line, as a check rail in a crossing. */
export interface RunStretch {
  readonly fromMm: number
  readonly toMm: number
  readonly owner: RailOwner
  readonly from: RailPlace | null
  readonly to: RailPlace | null
}

/** A run as it lies in the plan: for pictures and hands. */
export interface RailLine {
  readonly run: string
  /** Its gauge line from start to end, as long as the run. */
  readonly path: Path
  /** The side of the path on which the head lies. */
  readonly headSide: 1 | -1
  /** Where no joint may stand, along the run; of one that is never joined none. */
  readonly zones: readonly JointZone[]
}

export type { JointRule } from '../turnout/index.ts'

/** A stretch of a run that keeps clear of joints, its distances included. */
export interface JointZone {
  readonly rule: JointRule
  readonly fromMm: number
  readonly toMm: number
}

/**
 * Where two pieces meet. solder: on a curve, soldered before the rail is bent; slip: on a straight, a joiner with a gap that takes up heat and damp.
 * isOwn: put there by the builder.
 */
export interface RailJoint {
  readonly run: string
  /** Along the run. */
  readonly atMm: number
  readonly place: RailPlace
  readonly kind: 'solder' | 'slip'
  readonly gapMm: number
  readonly isOwn: Id | null
  /** Marks of the pieces before and behind it. */
  readonly pieces: readonly [string, string]
}

/** A mark is called by its kind: these are the words that are scribed. */
export type MarkKind = 'middle' | 'TS' | 'SC' | 'CS' | 'ST' | 'CC' | 'bend' | 'tie'

/** What is scribed on a piece before it is bent, from its start. turnRad: of a bend, left positive as seen from the start. */
export interface RailMark {
  readonly kind: MarkKind
  readonly atMm: number
  readonly turnRad?: number
}

/** One piece of rail to cut. */
export interface RailPiece {
  /** Its mark, unique in the plan: the name of its track or turnout in short, the side or part, and its number. */
  readonly id: string
  readonly run: string
  readonly kind: RunKind
  readonly code: number
  readonly owner: RailOwner
  /** Side of the track on which it lies, seen along rising station; of a rail of special work seen along its route. */
  readonly rail: RailSide
  /** What is cut off the stick: the rail laid and what its joints take. */
  readonly lengthMm: number
  /** End to end as it is laid, gaps taken off. */
  readonly laidMm: number
  /** Along its run, ends of the piece itself. */
  readonly fromMm: number
  readonly toMm: number
  /** Of its ends; null: on no track's line. */
  readonly from: RailPlace | null
  readonly to: RailPlace | null
  readonly startsAt: 'joint' | BreakKind
  readonly endsAt: 'joint' | BreakKind
  readonly isCurved: boolean
  /** In order from its start, ties left out: those are in `ties`. */
  readonly marks: readonly RailMark[]
  /** Middles of the ties that it crosses, from its start. */
  readonly ties: readonly number[]
  /** Which is laid first: 1, 2, … over the whole plan. */
  readonly order: number
}

/** Spikes of plain track: two to a rail at a tie, one on either side of the foot. */
export interface SpikeTie {
  readonly stationMm: number
  readonly rail: RailSide
  /** 1: holds the rail until it is gauged; 2: the rest. */
  readonly pass: 1 | 2
  readonly why: 'joint' | 'tangent' | 'curve'
}

export interface SpikePlan {
  readonly tracks: readonly {
    readonly track: Id
    readonly ties: readonly SpikeTie[]
    readonly spikes: number
    readonly firstPass: number
  }[]
  readonly works: readonly { readonly owner: RailOwner; readonly spikes: number }[]
  readonly plainSpikes: number
  readonly workSpikes: number
  readonly spikes: number
}

/** Gauge wider by so much between two stations. */
export interface WideningStretch {
  readonly fromMm: number
  readonly toMm: number
  readonly byMm: number
}

/** A layer of tape or shim below the outer rail's tie ends, the lowest first. */
export interface ShimLayer {
  readonly layer: number
  /** Height with this layer on. */
  readonly heightMm: number
  readonly fromMm: number
  readonly toMm: number
}

/** One curve of a track, for gauge and superelevation; stations of the track. */
export interface CurveRow {
  readonly track: Id
  readonly corner: Id
  readonly hand: RailSide
  /** Of its sharpest arc. */
  readonly radiusMm: number
  readonly tsMm: number
  readonly scMm: number
  readonly csMm: number
  readonly stMm: number
  readonly widening: readonly WideningStretch[]
  readonly superelevationMm: number
  /** The rail that is raised. */
  readonly outer: RailSide
  readonly layers: readonly ShimLayer[]
  /** Layers differ from what is asked by no more, mm. */
  readonly roundingMm: number
  /** No easement to run in over, at that end. */
  readonly isAbruptIn: boolean
  readonly isAbruptOut: boolean
}

/** What a slip joint needs on the day of laying, by length of rail between two such gaps. */
export interface ExpansionRule {
  /** Part of the length by which a gap closes at worst from the day of laying on, and by which it opens. */
  readonly closesPart: number
  readonly opensPart: number
}

export type RailProblem =
  /** Rail of this code is wanted and there is none to cut it from. */
  | { readonly kind: 'noRailStock'; readonly code: number; readonly lengthMm: number; readonly others: readonly number[] }
  /** A joint that had to stand where a rule forbids it. lengthMm: with sticks as long the whole rail breaks no rule; null: no stick would cure it. */
  | {
      readonly kind: 'jointInZone'
      readonly place: RailPlace
      readonly rules: readonly JointRule[]
      readonly isOwn: Id | null
      readonly longestMm: number
      readonly lengthMm: number | null
    }
  | {
      readonly kind: 'stagger'
      readonly place: RailPlace
      readonly other: RailPlace
      readonly haveMm: number
      readonly needMm: number
    }
  | { readonly kind: 'pieceTooShort'; readonly piece: string; readonly place: RailPlace; readonly haveMm: number; readonly needMm: number }
  /** A rail of special work, which has no joint, is longer than any stick. */
  | {
      readonly kind: 'workTooLong'
      readonly piece: string
      readonly owner: RailOwner
      readonly lengthMm: number
      readonly longestMm: number
    }
  /** A joint of the builder's that lies on no rail that can be joined, or on a break. */
  | { readonly kind: 'jointOffRail'; readonly joint: Id; readonly place: RailPlace; readonly why: 'noRail' | 'atBreak' }

export interface RailWork {
  readonly runs: readonly RailRun[]
  /** Of every run, in their order. */
  readonly lines: readonly RailLine[]
  readonly pieces: readonly RailPiece[]
  readonly joints: readonly RailJoint[]
  /** Marks of all pieces in the order of laying. */
  readonly order: readonly string[]
  readonly spiking: SpikePlan
  readonly curves: readonly CurveRow[]
  readonly expansion: ExpansionRule
  /** Sections of rail in use, by code. */
  readonly sections: readonly RailSize[]
  readonly problems: readonly RailProblem[]
  /** All runs together have the best joints that the places looked at allow, the stagger held; false: no better was found in bounded time. */
  readonly isProven: boolean
}
