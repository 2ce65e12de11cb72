import type { Sourced } from '../../standards/index.ts'

/** A body on two trucks, or on two axles (truckWheelbaseMm 0, truckCentresMm axle to axle). mm at full size. */
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

/** A place along an engine, counted forwards from its last driver, and how wide it is there. mm at full size. */
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
  /** From the rear end to the front end: cab, running board, cylinders, pilot beam. */
  readonly widths: readonly FrameWidth[]
}

/** A kind of car or engine at full size, as a type and not as one road's or maker's. Front first. */
export interface VehicleRow extends Sourced {
  readonly key: string
  readonly name: string
  /** Whyte's count of wheels for steam: 2-8-0. null: none. */
  readonly wheels: string | null
  /** Over coupler faces, tender included; over buffers where there are buffers. */
  readonly overCouplersMm: number
  readonly heightMm: number
  readonly weightKg: number
  /** How far a coupler swings to each side. */
  readonly couplerSwingRad: number
  readonly frames: readonly (CarFrame | DriverFrame)[]
}
