import { MM_PER_FOOT, MM_PER_INCH } from '../../units/index.ts'
import type { CarFrame, DriverFrame } from '../../plan/types.ts'
import type { VehicleRow } from './types.ts'

/** Feet and inches at full size. */
export const feet = (whole: number, inches = 0): number => whole * MM_PER_FOOT + inches * MM_PER_INCH

type Told = Omit<VehicleRow, 'source' | 'clause' | 'status' | 'couplerSwingRad' | 'wheels'> & {
  readonly wheels?: string
}

/** A model's coupler swings about 20 degrees to each side, more than its prototype's 7 to 13. [from memory] */
const COUPLER_SWING_RAD = 0.349

/** A row of typical sizes that nobody has looked up. */
export function fromMemory({ wheels, ...row }: Told): VehicleRow {
  return {
    ...row,
    wheels: wheels ?? null,
    couplerSwingRad: COUPLER_SWING_RAD,
    source: 'COMMON-PRACTICE',
    clause: 'typical sizes',
    status: 'from-memory',
  }
}

export const car = (
  lengthMm: number,
  widthMm: number,
  truckCentresMm: number,
  truckWheelbaseMm: number,
  taper: CarFrame['taper'] = null,
): CarFrame => ({ kind: 'car', lengthMm, widthMm, truckCentresMm, truckWheelbaseMm, taper })

/** A frame on drivers from pairs of a place ahead of the last driver and the width there. */
export const drivers = (wheelbaseMm: number, ...widths: readonly (readonly [aheadMm: number, widthMm: number])[]): DriverFrame => ({
  kind: 'drivers',
  wheelbaseMm,
  widths: widths.map(([aheadMm, widthMm]) => ({ aheadMm, widthMm })),
})
