import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { freePlaceIn } from '../../../src/core/room/index.ts'
import type { Point } from '../../../src/core/geom/types.ts'

/* Free places are held against plain sums of rectangles, worked out here. */

const ring = (x: number, y: number, long: number, deep: number): readonly Point[] => [
  { x, y },
  { x: x + long, y },
  { x: x + long, y: y + deep },
  { x, y: y + deep },
]

const room = ring(0, 0, 4000, 3000)
const board = fc
  .tuple(fc.integer({ min: 0, max: 2400 }), fc.integer({ min: 0, max: 1800 }), fc.integer({ min: 400, max: 1600 }))
  .map(([x, y, side]) => ({ x, y, long: side, deep: Math.min(side, 1200) }))

describe('a free place in a room', () => {
  it('lies in it and on nothing that stands there', () => {
    fc.assert(
      fc.property(
        fc.array(board, { maxLength: 3 }),
        fc.integer({ min: 400, max: 2400 }),
        fc.integer({ min: 400, max: 900 }),
        (boards, longMm, deepMm) => {
          const at = freePlaceIn(
            room,
            boards.map(({ x, y, long, deep }) => ring(x, y, long, deep)),
            { longMm, deepMm },
          )
          if (at === null) return
          expect(Math.min(at.x, at.y, 4000 - at.x - longMm, 3000 - at.y - deepMm)).toBeGreaterThan(-1)
          for (const { x, y, long, deep } of boards) {
            const acrossMm = Math.min(at.x + longMm, x + long) - Math.max(at.x, x)
            const upMm = Math.min(at.y + deepMm, y + deep) - Math.max(at.y, y)
            expect(Math.min(acrossMm, upMm)).toBeLessThan(2)
          }
        },
      ),
      { numRuns: 100 },
    )
  })

  it('is the lowest, then the leftmost', () => {
    expect(freePlaceIn(room, [], { longMm: 2400, deepMm: 900 })).toEqual({ x: 0, y: 0 })
    expect(freePlaceIn(room, [ring(0, 0, 2400, 900)], { longMm: 1600, deepMm: 900 })).toEqual({ x: 2400, y: 0 })
    expect(freePlaceIn(room, [ring(0, 0, 2400, 900)], { longMm: 2400, deepMm: 900 })).toEqual({ x: 0, y: 900 })
  })

  it('is not in the missing quarter of an L', () => {
    const bent = [
      { x: 0, y: 1000 },
      { x: 2000, y: 1000 },
      { x: 2000, y: 0 },
      { x: 4000, y: 0 },
      { x: 4000, y: 3000 },
      { x: 0, y: 3000 },
    ]
    expect(freePlaceIn(bent, [], { longMm: 1500, deepMm: 800 })).toEqual({ x: 2000, y: 0 })
    expect(freePlaceIn(bent, [], { longMm: 3000, deepMm: 800 })).toEqual({ x: 0, y: 1000 })
  })

  it('is none where nothing of that size goes in', () => {
    expect(freePlaceIn(room, [], { longMm: 4100, deepMm: 900 })).toBeNull()
    expect(freePlaceIn(room, [ring(1000, 800, 2000, 1400)], { longMm: 1200, deepMm: 900 })).toBeNull()
  })
})
