import fc from 'fast-check'
import { expect, test } from 'vitest'
import { diamondPx, findingLeaders, leaderPx, rulerPx } from '../../../src/app/canvas/findingLanes.ts'

test('marks that stand apart keep their height, and no mark covers another', () => {
  expect(
    findingLeaders([
      { left: 100, top: 300 },
      { left: 121, top: 300 },
    ]),
  ).toEqual([leaderPx, leaderPx])
  const pixel = fc.integer({ min: 0, max: 120 })
  fc.assert(
    fc.property(fc.array(fc.record({ left: pixel, top: pixel }), { maxLength: 20 }), (places) => {
      const leaders = findingLeaders(places)
      const middles = places.map(({ left, top }, i) => ({ left, top: top - (leaders[i] ?? NaN) }))
      for (const [i, a] of middles.entries()) {
        // The ruler runs along the upper edge.
        expect(a.top - diamondPx).toBeGreaterThanOrEqual(rulerPx)
        for (const b of middles.slice(i + 1)) {
          // Two diamonds of this half width meet when their middles are nearer than twice that, counted along both axes.
          expect(Math.abs(a.left - b.left) + Math.abs(a.top - b.top)).toBeGreaterThanOrEqual(2 * diamondPx)
        }
      }
    }),
    { seed: 20261125, numRuns: 60 },
  )
})
