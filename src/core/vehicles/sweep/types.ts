import type { Path } from '../../geom/types.ts'

/** Where a body rests: a truck whose two axles stand on the line and whose pivot is midway between them, or (0) a pin or axle on the line itself. */
export interface Support {
  /** Of the pivot, from the middle of the body, forwards. */
  readonly xMm: number
  readonly wheelbaseMm: number
}

/** Half the width of a body at a place along it, from the middle forwards. */
export interface BodyRib {
  readonly xMm: number
  readonly halfWidthMm: number
}

/** A rigid body on two supports: a car, the frame of a steam engine, the boiler of an articulated one. mm on the model. */
export interface RigidBody {
  readonly front: Support
  readonly rear: Support
  /** From the rear end to the front end, straight in between. */
  readonly ribs: readonly BodyRib[]
}

/** How far what runs on a line reaches to both sides of it, square to it, at a station. mm, never below 0. */
export interface Reach {
  readonly stationMm: number
  readonly leftMm: number
  readonly rightMm: number
}

export interface SweepRequest {
  /** Centreline that all supports stand on; on a loop run on for a body's length at both ends. */
  readonly path: Path
  readonly bodies: readonly RigidBody[]
  /** Stations at which the reach is wanted, rising. */
  readonly stations: readonly number[]
}
