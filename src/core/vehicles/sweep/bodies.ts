import type { CarShape } from '../types.ts'
import type { RigidBody } from './types.ts'

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
