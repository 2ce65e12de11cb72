/** A point of the plan, millimetres on the model; x right, y up. */
export interface Point {
  readonly x: number
  readonly y: number
}

/** A point with a direction; heading in radians, anticlockwise from +x. */
export interface Pose extends Point {
  readonly headingRad: number
}

/**
 * The one element that carries every alignment: curvature changes linearly with arc length.
 * Line: k0 = k1 = 0. Arc: k0 = k1. Easement (clothoid): k0 and k1 differ.
 * Length in mm (> 0), curvatures in 1/mm, positive when turning left along rising station.
 */
export interface CurveElement {
  readonly lengthMm: number
  readonly k0: number
  readonly k1: number
}

/** An element set in its place: where it starts along the path and in the plan. */
export interface PathElement extends CurveElement {
  readonly startStationMm: number
  readonly start: Pose
}

/** A chain of elements; each starts in the pose where the one before it ends. */
export interface Path {
  readonly elements: readonly PathElement[]
  readonly lengthMm: number
  readonly end: Pose
}

/** Axis-parallel box, mm. */
export interface Box {
  readonly minX: number
  readonly minY: number
  readonly maxX: number
  readonly maxY: number
}

/** A pose on a path with what the path knows there. */
export interface StationPose extends Pose {
  readonly stationMm: number
  readonly curvature: number
}

/** Nearest place of a path to a point: station, distance (>= 0) and signed offset (+ left of rising station). */
export interface NearestStation extends Point {
  readonly stationMm: number
  readonly distanceMm: number
  readonly offsetMm: number
}
