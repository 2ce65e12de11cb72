import type { Point, Pose } from '../../geom/types.ts'
import type { RigidBody } from '../sweep/types.ts'

/** A car or an engine as what is coupled into a train. mm on the model. */
export interface TrainCar {
  /** Front first; the front looks along rising stations. */
  readonly bodies: readonly RigidBody[]
  /** Over coupler faces, all bodies together. */
  readonly overCouplersMm: number
  /** From a coupler's face back to the pin that it swings about. */
  readonly pinMm: number
}

/** The end of a standing car where it couples to another one. */
export interface CouplerEnd {
  /** What the coupler swings about. */
  readonly pin: Point
  /** Of the body, along the train; the same way for both ends of it. */
  readonly headingRad: number
  /** From the pin to the coupler's face. */
  readonly reachMm: number
}

/** How two coupled ends stand to each other; left is positive, looking along the train. */
export interface CouplerOffsets {
  /** How far the face of the car ahead lies to the left of the other one's, were both couplers straight ahead of their bodies. */
  readonly lateralMm: number
  /** By how much the line from pin to pin is turned out of the body ahead, and out of the body behind. */
  readonly aheadRad: number
  readonly behindRad: number
}

/** One body of a train where it stands. */
export interface StandingBody {
  readonly car: number
  readonly body: RigidBody
  readonly pose: Pose
  /** Middle of its front support, along the path. */
  readonly frontMm: number
}

/** The couplers between a car and the one behind it. */
export interface StandingCoupler extends CouplerOffsets {
  /** The car ahead, counted from 0. */
  readonly car: number
  readonly aheadPin: Point
  readonly behindPin: Point
}

export type TrainStance =
  | { readonly ok: true; readonly bodies: readonly StandingBody[]; readonly couplers: readonly StandingCoupler[] }
  /** pathAhead, pathBehind: the path ends under the train. curve: too sharp for a body, or for two that are coupled. */
  | { readonly ok: false; readonly reason: 'pathAhead' | 'pathBehind' | 'curve'; readonly car: number }
