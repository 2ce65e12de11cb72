import { describe, expect, it } from 'vitest'
import { polylineSides } from '../../../src/core/geom/index.ts'

/** Sides of 3, 4 and 5, the right angle at the second point; one point is there twice. */
const triangle = [
  { x: 0, y: 0 },
  { x: 3, y: 0 },
  { x: 3, y: 0 },
  { x: 3, y: 4 },
]

describe('the sides of a row of points', () => {
  it('lead from each to the next, each from where the last ended, and round where it is closed', () => {
    const open = polylineSides(triangle, false)
    expect(open.map(({ index, startMm, lengthMm }) => [index, startMm, lengthMm])).toEqual([
      [0, 0, 3],
      [2, 3, 4],
    ])
    const closed = polylineSides(triangle, true)
    expect(closed.map(({ index, startMm, lengthMm }) => [index, startMm, lengthMm])).toEqual([
      [0, 0, 3],
      [2, 3, 4],
      [3, 7, 5],
    ])
    expect(closed.at(-1)?.b).toBe(triangle[0])
  })

  it('are none of fewer than two places', () => {
    const here = { x: 3, y: 0 }
    for (const points of [[], [here], [here, { ...here }]]) {
      for (const isClosed of [false, true]) expect(polylineSides(points, isClosed)).toEqual([])
    }
  })
})
