import { describe, expect, test } from 'vitest'
import { swing, trackCentresForCars } from '../../../src/core/vehicles/index.ts'
import type { CarShape } from '../../../src/core/vehicles/index.ts'

const INCH = 25.4
const hoFeet = (feet: number): number => (feet * 12 * INCH) / 87.1

/** The 85 ft passenger car of common practice: 60 ft truck centres, 10 ft wide. No published table of these swings was read. */
const car85 = (wheelbaseFeet: number): CarShape => ({
  bodyLengthMm: hoFeet(85),
  bodyWidthMm: hoFeet(10),
  truckCentresMm: hoFeet(60),
  truckWheelbaseMm: hoFeet(wheelbaseFeet),
})

// Inches, worked by hand from the circle relations to three places.
const rows = [
  { radiusIn: 24, wheelbaseFeet: 0, insideIn: 0.359, outsideIn: 0.336 },
  { radiusIn: 30, wheelbaseFeet: 0, insideIn: 0.286, outsideIn: 0.273 },
  { radiusIn: 36, wheelbaseFeet: 0, insideIn: 0.238, outsideIn: 0.229 },
  { radiusIn: 30, wheelbaseFeet: 8.5, insideIn: 0.292, outsideIn: 0.267 },
]

describe('swing of an 85 ft car in HO', () => {
  test.each(rows)('radius $radiusIn in, truck wheelbase $wheelbaseFeet ft', ({ radiusIn, wheelbaseFeet, insideIn, outsideIn }) => {
    const result = swing(radiusIn * INCH, car85(wheelbaseFeet))
    if (!result.ok) throw new Error(result.problem.kind)
    // Half a unit of the last place given.
    expect(Math.abs(result.swing.insideMm / INCH - insideIn)).toBeLessThan(0.0005)
    expect(Math.abs(result.swing.outsideMm / INCH - outsideIn)).toBeLessThan(0.0005)
  })

  test('track centres for two of them, inner radius 30 in, a quarter inch between', () => {
    const car = car85(0)
    const result = trackCentresForCars({ innerRadiusMm: 30 * INCH, innerCar: car, outerCar: car, clearanceMm: INCH / 4 })
    if (!result.ok) throw new Error(result.problem.kind)
    // 1.378 + .273 + .267 + .25 = 2.168, rounded to 2.17.
    expect(Math.abs(result.trackCentresMm / INCH - 2.17)).toBeLessThan(0.005)
  })
})
