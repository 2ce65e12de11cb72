import { describe, expect, it } from 'vitest'
import { pointsOrder } from '../../../src/core/alignment/index.ts'
import { aTraverse, solvedPath, surveyed } from '../../support/tracing.ts'

describe('points put in order', () => {
  it('a shuffled line comes back, from one end or the other', () => {
    const { points } = surveyed(solvedPath(aTraverse([0, 0], [[1000, 0, 500, 0, 0]], [1000, 1000])), 60, 0.2, 0, 1)
    // 7 and 60 have no common divisor.
    const mixed = points.map((_, i) => points[(i * 7) % 60] ?? { x: 0, y: 0 })
    const sorted = pointsOrder(mixed).map((i) => mixed[i])
    expect([points, points.toReversed()]).toContainEqual(sorted)
  })

  it('nothing is lost, not even the same point twice', () => {
    expect(pointsOrder([])).toEqual([])
    expect(pointsOrder([4, 4, 0, 2].map((x) => ({ x, y: 0 }))).toSorted()).toEqual([0, 1, 2, 3])
  })
})
