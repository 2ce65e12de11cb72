import { expect, test } from 'vitest'
import { pathArc, pathLine, pathNearest } from '../../../src/core/geom/index.ts'
import { pathSpans } from '../../../src/core/geom/spans.ts'

test('a straight of a kilometre is cut into few spans, and its nearest places are as exact', () => {
  const path = pathLine({ x: 0, y: 0 }, { x: 1e6, y: 0 })
  expect(pathSpans(path).length).toBeLessThanOrEqual(64)
  for (const x of [0.5, 123_456.789, 999_999.5]) {
    const { stationMm, distanceMm } = pathNearest(path, { x, y: 40 })
    // The promise of pathNearestWithin.
    expect(Math.abs(stationMm - x)).toBeLessThan(1e-6)
    expect(Math.abs(distanceMm - 40)).toBeLessThan(1e-9)
  }
})

test('a curve is cut by how much it turns, however long it is', () => {
  // A quarter of a radian each: 100 radians round and round.
  expect(pathSpans(pathArc({ x: 0, y: 0, headingRad: 0 }, 500, 50_000))).toHaveLength(400)
})
