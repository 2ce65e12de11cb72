import type { Id } from './types.ts'

// Cars and engines, frame by frame. Lengths mm on the model.

/** A body on two trucks, or on two axles (truckWheelbaseMm 0, truckCentresMm axle to axle). */
export interface CarFrame {
  readonly kind: 'car'
  readonly lengthMm: number
  readonly widthMm: number
  readonly truckCentresMm: number
  /** First axle to last axle of one truck. */
  readonly truckWheelbaseMm: number
  /** Ends that grow narrower: how wide at the very end, and over what length. null: as wide as the rest. */
  readonly taper: { readonly endWidthMm: number; readonly lengthMm: number } | null
}

/** A place along an engine, counted forwards from its last driver, and how wide it is there. */
export interface FrameWidth {
  readonly aheadMm: number
  readonly widthMm: number
}

/**
 * A frame held by its drivers: the first and the last of them stand on the line. Lead and trail trucks carry it and swing under it;
 * they do not steer it.
 */
export interface DriverFrame {
  readonly kind: 'drivers'
  /** First driver to last driver. */
  readonly wheelbaseMm: number
  /** Cab, running board, cylinders, pilot beam; in any order. */
  readonly widths: readonly FrameWidth[]
}

export type VehicleFrame = CarFrame | DriverFrame

/** A car or an engine, mm on the model. */
export interface Vehicle {
  readonly id: Id
  readonly name: string
  /** Whyte's count of wheels for steam: 2-8-0. null: none. */
  readonly wheels: string | null
  /** Over coupler faces, tender included; over buffers where there are buffers. */
  readonly overCouplersMm: number
  readonly heightMm: number
  /** 0: not known. */
  readonly weightG: number
  /** How far a coupler swings to each side. */
  readonly couplerSwingRad: number
  /** Front first; each stands on the line for itself. */
  readonly frames: readonly VehicleFrame[]
}
