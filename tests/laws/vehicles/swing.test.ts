import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { swing, trackCentresForCars } from '../../../src/core/vehicles/index.ts'
import type { CarShape } from '../../../src/core/vehicles/index.ts'

const SEED = 20260711

const cars = fc
  .record({
    bodyLengthMm: fc.double({ min: 40, max: 400, noNaN: true }),
    bodyWidthMm: fc.double({ min: 10, max: 60, noNaN: true }),
    centresPart: fc.double({ min: 0.1, max: 1, noNaN: true }),
    wheelbasePart: fc.double({ min: 0, max: 0.3, noNaN: true }),
  })
  .map(
    ({ bodyLengthMm, bodyWidthMm, centresPart, wheelbasePart }): CarShape => ({
      bodyLengthMm,
      bodyWidthMm,
      truckCentresMm: bodyLengthMm * centresPart,
      truckWheelbaseMm: bodyLengthMm * wheelbasePart,
    }),
  )

/**
 * The band by brute force: set four axles on the circle, lay the trucks through them, the body through the pivots, and
 * take the least and largest distance of points round the body's outline from the centre.
 */
function bandByOutline(radiusMm: number, car: CarShape): { insideMm: number; outsideMm: number } {
  // Angle at the centre between a truck's axles, and between the pivots on their own circle.
  const axle = Math.asin(car.truckWheelbaseMm / 2 / radiusMm)
  const pivotRadius = radiusMm * Math.cos(axle)
  const spread = Math.asin(car.truckCentresMm / 2 / pivotRadius)
  const pivots = [-spread, spread].map((angle) => {
    const axles = [angle - axle, angle + axle].map((a) => ({ x: radiusMm * Math.sin(a), y: radiusMm * Math.cos(a) }))
    return { x: ((axles[0]?.x ?? 0) + (axles[1]?.x ?? 0)) / 2, y: ((axles[0]?.y ?? 0) + (axles[1]?.y ?? 0)) / 2 }
  })
  const middleY = ((pivots[0]?.y ?? 0) + (pivots[1]?.y ?? 0)) / 2
  let nearest = Infinity
  let farthest = 0
  const steps = 2000
  for (let i = 0; i <= steps; i++) {
    const x = (i / steps - 0.5) * car.bodyLengthMm
    for (const y of [middleY - car.bodyWidthMm / 2, middleY + car.bodyWidthMm / 2]) {
      nearest = Math.min(nearest, Math.hypot(x, y))
      farthest = Math.max(farthest, Math.hypot(x, y))
    }
  }
  const half = car.bodyWidthMm / 2
  return { insideMm: radiusMm - half - nearest, outsideMm: farthest - radiusMm - half }
}

describe('swing', () => {
  test('is the band that the outline of the car sweeps', () => {
    fc.assert(
      fc.property(cars, fc.double({ min: 1.5, max: 50, noNaN: true }), (car, times) => {
        const radiusMm = times * (car.bodyLengthMm / 2 + car.bodyWidthMm)
        const result = swing(radiusMm, car)
        if (!result.ok) throw new Error(result.problem.kind)
        const band = bandByOutline(radiusMm, car)
        // Even steps: x = 0 and both corners are among them, so only rounding of 20 m radii is left.
        expect(Math.abs(result.swing.insideMm - band.insideMm)).toBeLessThan(1e-9)
        expect(Math.abs(result.swing.outsideMm - band.outsideMm)).toBeLessThan(1e-9)
      }),
      { seed: SEED, numRuns: 200 },
    )
  })

  test('falls with the radius and goes to nothing on the straight', () => {
    fc.assert(
      fc.property(cars, (car) => {
        const radii = [2, 4, 8, 1e3, 1e6].map((times) => times * (car.bodyLengthMm + car.bodyWidthMm))
        const inside = radii.map((radiusMm) => {
          const result = swing(radiusMm, car)
          return result.ok ? result.swing.insideMm : Number.NaN
        })
        for (const [i, value] of inside.entries()) if (i > 0) expect(value).toBeLessThan(inside[i - 1] ?? 0)
        expect(inside.at(-1)).toBeLessThan(1e-3)
      }),
      { seed: SEED, numRuns: 100 },
    )
  })

  test('track centres stand when put into their own sum', () => {
    fc.assert(
      fc.property(cars, cars, fc.double({ min: 0, max: 20, noNaN: true }), (innerCar, outerCar, clearanceMm) => {
        const innerRadiusMm = 800
        const result = trackCentresForCars({ innerRadiusMm, innerCar, outerCar, clearanceMm })
        if (!result.ok) throw new Error(result.problem.kind)
        const inner = swing(innerRadiusMm, innerCar)
        const outer = swing(innerRadiusMm + result.trackCentresMm, outerCar)
        if (!inner.ok || !outer.ok) throw new Error('the cars stand on 800 mm')
        const sum =
          innerCar.bodyWidthMm / 2 + outerCar.bodyWidthMm / 2 + Math.max(0, inner.swing.outsideMm) + outer.swing.insideMm + clearanceMm
        expect(Math.abs(result.trackCentresMm - sum)).toBeLessThan(1e-8)
      }),
      { seed: SEED, numRuns: 200 },
    )
  })
})
