import type { CarShape } from '../types.ts'
import type { RigidBody } from './types.ts'

/** The length of the longest of bodies; 0 of none. */
export const bodiesLongest = (bodies: readonly RigidBody[]): number =>
  bodies.reduce((most, { ribs }) => Math.max(most, (ribs.at(-1)?.xMm ?? 0) - (ribs[0]?.xMm ?? 0)), 0)

/** A car on two trucks as a body: as long before its pivots as behind them, one width from end to end. */
export function bodyOfCar({ bodyLengthMm, bodyWidthMm, truckCentresMm, truckWheelbaseMm }: CarShape): RigidBody {
  const half = bodyLengthMm / 2
  return {
    front: { xMm: truckCentresMm / 2, wheelbaseMm: truckWheelbaseMm },
    rear: { xMm: -truckCentresMm / 2, wheelbaseMm: truckWheelbaseMm },
    ribs: [
      { xMm: -half, halfWidthMm: bodyWidthMm / 2 },
      { xMm: half, halfWidthMm: bodyWidthMm / 2 },
    ],
  }
}
