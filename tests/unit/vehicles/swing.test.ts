import { describe, expect, test } from 'vitest'
import { swing, trackCentresForCars } from '../../../src/core/vehicles/index.ts'
import type { CarShape } from '../../../src/core/vehicles/index.ts'

const car: CarShape = { bodyLengthMm: 300, bodyWidthMm: 35, truckCentresMm: 210, truckWheelbaseMm: 30 }

describe('swing', () => {
  test('by hand: 3-4-5 triangles', () => {
    // R 500, B 600: d = 400, inside 100. w 200, L 1500: corner at hypot(500, 750).
    const result = swing(500, { bodyLengthMm: 1500, bodyWidthMm: 200, truckCentresMm: 600, truckWheelbaseMm: 0 })
    if (!result.ok) throw new Error(result.problem.kind)
    expect(result.swing.insideMm).toBeCloseTo(100, 10)
    expect(result.swing.outsideMm).toBeCloseTo(Math.sqrt(500 ** 2 + 750 ** 2) - 600, 10)
  })

  test.each([
    [Number.NaN, car, { kind: 'notFinite', where: 'radiusMm' }],
    [Infinity, car, { kind: 'notFinite', where: 'radiusMm' }],
    [0, car, { kind: 'notPositive', where: 'radiusMm', value: 0 }],
    [500, { ...car, bodyLengthMm: -1 }, { kind: 'notPositive', where: 'bodyLengthMm', value: -1 }],
    [500, { ...car, bodyWidthMm: 0 }, { kind: 'notPositive', where: 'bodyWidthMm', value: 0 }],
    [500, { ...car, truckCentresMm: -2 }, { kind: 'negative', where: 'truckCentresMm', value: -2 }],
    [500, { ...car, truckWheelbaseMm: -2 }, { kind: 'negative', where: 'truckWheelbaseMm', value: -2 }],
    [500, { ...car, truckCentresMm: 301 }, { kind: 'pivotsBeyondBody', truckCentresMm: 301, bodyLengthMm: 300 }],
  ])('radius %s: %o has a problem', (radiusMm, shape, problem) => {
    expect(swing(radiusMm, shape)).toEqual({ ok: false, problem })
  })

  test('a car too long to stand on the curve says which radius it would need', () => {
    const result = swing(50, car)
    expect(result.ok).toBe(false)
    if (result.ok || result.problem.kind !== 'radiusTooSmall') throw new Error('expected radiusTooSmall')
    expect(result.problem.leastMm).toBeCloseTo(Math.hypot(105, 15, 17.5), 10)
    expect(swing(result.problem.leastMm * 1.001, car).ok).toBe(true)
  })

  test('a negative clearance is refused', () => {
    expect(trackCentresForCars({ innerRadiusMm: 600, innerCar: car, outerCar: car, clearanceMm: -1 })).toEqual({
      ok: false,
      problem: { kind: 'negative', where: 'clearanceMm', value: -1 },
    })
  })
})
