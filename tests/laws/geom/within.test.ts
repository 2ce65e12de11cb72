import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { boxContains, boxGrow, pathPoseAt, pathStretchesWithin } from '../../../src/core/geom/index.ts'
import type { Box } from '../../../src/core/geom/index.ts'
import { lawRuns, path } from '../../support/geomArbitraries.ts'

const box: fc.Arbitrary<Box> = fc
  .record({
    x: fc.double({ min: -2000, max: 2000, noNaN: true }),
    y: fc.double({ min: -2000, max: 2000, noNaN: true }),
    width: fc.double({ min: 0, max: 1500, noNaN: true }),
    height: fc.double({ min: 0, max: 1500, noNaN: true }),
  })
  .map(({ x, y, width, height }) => ({ minX: x, minY: y, maxX: x + width, maxY: y + height }))
const reach = fc.double({ min: 0, max: 60, noNaN: true })

describe('the stretches of a path within reach of a box', () => {
  it('hold every place of the line that is within reach, in order and apart', () => {
    fc.assert(
      fc.property(path, box, reach, (line, around, reachMm) => {
        const stretches = pathStretchesWithin(line, around, reachMm)
        let before = -1
        for (const { fromMm, toMm } of stretches) {
          expect(fromMm).toBeGreaterThan(before)
          expect(toMm).toBeGreaterThan(fromMm)
          before = toMm
        }
        expect(before).toBeLessThanOrEqual(line.lengthMm)
        for (let i = 0; i <= 60; i++) {
          const stationMm = (line.lengthMm * i) / 60
          // A box grown by the reach is more than what is within reach only at its corners, which the test leaves out.
          const at = pathPoseAt(line, stationMm)
          const isNear = boxContains(boxGrow(around, reachMm / Math.SQRT2), at)
          if (isNear) expect(stretches.some(({ fromMm, toMm }) => stationMm >= fromMm && stationMm <= toMm)).toBe(true)
        }
      }),
      lawRuns,
    )
  })

  it('leave out what lies farther away than the box is wide', () => {
    fc.assert(
      fc.property(path, box, reach, (line, around, reachMm) => {
        const diagonal = Math.hypot(around.maxX - around.minX, around.maxY - around.minY)
        const beyond = boxGrow(around, reachMm + diagonal + 2e-3 * line.lengthMm)
        for (const { fromMm, toMm } of pathStretchesWithin(line, around, reachMm)) {
          for (const share of [0, 0.25, 0.5, 0.75, 1]) {
            expect(boxContains(beyond, pathPoseAt(line, fromMm + (toMm - fromMm) * share))).toBe(true)
          }
        }
      }),
      lawRuns,
    )
  })
})
