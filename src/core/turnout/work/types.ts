import type { Path, Point } from '../../geom/types.ts'
import type { TurnoutGap, TurnoutRail } from '../types.ts'

/**
 * A way through a turnout or crossing. straight: that of the host, or of a crossing's first track; curved: the diverging
 * one to the turnout's hand; other: a second diverging one, or a crossing's second track; slip-…: the curve of a slip on that
 * side; narrow…: the ways of the smaller gauge where two gauges share a track.
 */
export type RouteName = 'straight' | 'curved' | 'other' | 'slip-left' | 'slip-right' | 'narrow-straight' | 'narrow-curved'

export type Side = 'left' | 'right'

/** Centreline and gauge of a route; both its gauge lines are the exact offsets of it wherever its own rails carry the wheels. */
export interface WorkRoute {
  readonly name: RouteName
  readonly centre: Path
  readonly gaugeMm: number
}

/** A point rail at an end of a gauge line: its length from the tip, and the line that it lies against when closed. */
export interface PointRail {
  readonly lengthMm: number
  readonly against: LineName
}

/** What a gauge line is found by among the lines of a work. */
export interface LineName {
  readonly route: RouteName
  readonly side: Side
  readonly of?: number
}

/**
 * One gauge line of a route, drawn in the direction of the host's travel: the face that wheels run along, with the head on
 * its own side. Where two routes share a rail there is one line. Lines that cross make a frog.
 */
export interface GaugeLine {
  readonly route: RouteName
  /** Which of several works that are built in one its route is of; absent: there is one. */
  readonly of?: number
  readonly side: Side
  readonly path: Path
  readonly pointAtStart: PointRail | null
  readonly pointAtEnd: PointRail | null
  /** Gauges of the wheels that run on it, where they are others than the work's own; each asks for a guard rail at its own place. */
  readonly gaugesMm?: readonly number[]
}

/** What the rails of special work are made to; mm. */
export interface WorkMeasures {
  readonly ratio: number
  readonly flangewayMm: number
  readonly checkGaugeMm: number
  readonly railHeadMm: number
  readonly railFootMm: number
  /** Of check rails that stand on both sides of a track; absent: as checkFlangeway has it. */
  readonly checkFlangewayMm?: number
}

/** From the theoretical point along a gauge line: back to the toe, on to the heel. */
export interface FrogLengths {
  readonly toeMm: number
  readonly heelMm: number
}

export interface WorkRequest {
  readonly lines: readonly GaugeLine[]
  readonly measures: WorkMeasures
  readonly gaugeMm: number
  /** What is left of a line between two frogs is no rail of its own up to this length, mm: the first one's rail takes it over. Absent: any is. */
  readonly stubMm?: number
  /** Lengths of a frog by its angle, and by where it stands. */
  readonly frogLengthsOf: (angleRad: number, at: Point) => FrogLengths
}

/** A line of a frog and the station at which the other crosses it. */
export interface FrogLine extends LineName {
  readonly stationMm: number
}

/**
 * A place where two gauge lines cross. vee: a left line crosses a right one, and the heads meet in a point; elbow: two lines of
 * one side cross, the obtuse frog of a diamond: a bent rail and two points that face each other.
 */
export interface WorkFrog {
  readonly kind: 'vee' | 'elbow'
  /** Theoretical point. */
  readonly at: Point
  /** Direction in which a vee opens; of an elbow the mean direction of its lines. */
  readonly headingRad: number
  readonly angleRad: number
  /** The frog number in the sense of 2 atan(1/2N). */
  readonly number: number
  readonly lines: readonly [FrogLine, FrogLine]
  /** Actual point of a vee, half an inch full size wide; of an elbow its theoretical point. */
  readonly actualPoint: Point
  /** Elbow: length of each line over which nothing holds a wheel; 0 for a vee, which has its guard rails. */
  readonly unguardedMm: number
}

/** Rails, frogs and gaps built from gauge lines. */
export interface SpecialWork {
  readonly rails: readonly TurnoutRail[]
  readonly frogs: readonly WorkFrog[]
  readonly gaps: readonly TurnoutGap[]
}
