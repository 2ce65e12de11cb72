import fc from 'fast-check'
import { expect, test } from 'vitest'
import { diamondPx, findingLeaders, leaderPx, leaderStarts, rulerPx } from '../../../src/app/canvas/findingLanes.ts'

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

test('leaders begin above the mark that stands between, so that none runs through a number', () => {
  const places = [
    { left: 400, top: 300 },
    { left: 400, top: 300 },
    { left: 403, top: 296 },
    { left: 500, top: 300 },
  ]
  const leaders = findingLeaders(places)
  const starts = leaderStarts(places, leaders)
  places.forEach(({ left, top }, i) => {
    const [from, to] = [top - (starts[i] ?? 0), top - (leaders[i] ?? 0) + diamondPx]
    places.forEach((other, j) => {
      if (i === j || Math.abs(other.left - left) >= diamondPx) return
      const middle = other.top - (leaders[j] ?? 0)
      // The number of the other one stands about the middle of its diamond.
      expect(middle - 4 > from || middle + 4 < to, `${i} past ${j}`).toBe(true)
    })
  })
  expect(starts[0]).toBe(0)
  expect(starts[3]).toBe(0)
})
