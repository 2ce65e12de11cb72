import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { fixedGap, sweptTrack, trackGap } from '../../../src/core/clearance/index.ts'
import type { SweptTrack } from '../../../src/core/clearance/index.ts'
import { pathFromElements, ringContains, segmentIntersection, segmentNearest } from '../../../src/core/geom/index.ts'
import type { Point } from '../../../src/core/geom/index.ts'
import { bodiesBothWays, sweepBand, vehicleBodies, vehicleByKey } from '../../../src/core/vehicles/index.ts'

const row = vehicleByKey('steam-4-8-4')
const bodies = row ? bodiesBothWays(vehicleBodies(row, 87.1)) : []

function bent(id: string, x: number, y: number, headingRad: number, k: number): SweptTrack {
  const path = pathFromElements({ x, y, headingRad }, [
    { lengthMm: 400, k0: 0, k1: 0 },
    { lengthMm: 200, k0: 0, k1: k },
    { lengthMm: 300, k0: k, k1: k },
    { lengthMm: 200, k0: k, k1: -k },
    { lengthMm: 200, k0: -k, k1: -k },
  ])
  const line = { track: id, path, isClosed: false, span: { fromMm: 0, toMm: path.lengthMm }, startMm: 0, endMm: path.lengthMm, level: null }
  return sweptTrack(line, bodies, 20)
}

const ringOf = ({ band }: SweptTrack): readonly Point[] => sweepBand(band)[0] ?? []

/** Distance of two rings by every corner against every edge; 0 where they meet or one holds the other. */
function ringsApart(a: readonly Point[], b: readonly Point[]): number {
  let least = Infinity
  for (const [mine, other] of [
    [a, b],
    [b, a],
  ] as const) {
    for (const p of mine) {
      if (ringContains(other, p)) return 0
      for (const [i, q] of other.entries()) least = Math.min(least, segmentNearest(q, other[(i + 1) % other.length] ?? q, p).distanceMm)
    }
  }
  // Edges are 20 mm long: those that meet have corners near each other.
  if (least > 25) return least
  for (const [i, p] of a.entries()) {
    for (const [j, q] of b.entries()) {
      if (segmentIntersection(p, a[(i + 1) % a.length] ?? p, q, b[(j + 1) % b.length] ?? q)) return 0
    }
  }
  return least
}

/** Evenly over a range, which doubles are not. */
const evenly = (min: number, max: number) => fc.integer({ min: 0, max: 1e6 }).map((share) => min + ((max - min) * share) / 1e6)

const place = fc.record({
  x: evenly(-300, 300),
  y: evenly(60, 400),
  headingRad: evenly(-0.3, 0.4),
  k: evenly(-1 / 620, 1 / 620),
})

describe('gaps found by strides', () => {
  it('between two tracks are those of every corner against every edge', () => {
    let apart = 0
    fc.assert(
      fc.property(place, ({ x, y, headingRad, k }) => {
        const a = bent('a', 0, 0, 0, 1 / 700)
        const b = bent('b', x, y, headingRad, k)
        const slow = ringsApart(ringOf(a), ringOf(b))
        const { least, meetings } = trackGap(a, b, { limitMm: 6.4, gaugeMm: 16.5, withinMm: Infinity })
        if (slow > 0) {
          apart += 1
          // The same points and edges: only rounding is between them.
          if (meetings.length === 0) expect(Math.abs((least?.gapMm ?? Infinity) - slow)).toBeLessThan(1e-6)
        } else {
          expect(meetings.length > 0 || (least?.gapMm ?? Infinity) <= 0).toBe(true)
        }
      }),
      { numRuns: 30, seed: 51 },
    )
    expect(apart).toBeGreaterThan(10)
  })

  it('to a post are those of every corner against every edge', () => {
    const track = bent('a', 0, 0, 0, 1 / 700)
    let apart = 0
    fc.assert(
      fc.property(evenly(-200, 1500), evenly(-200, 500), evenly(2, 90), (x, y, size) => {
        const ring = [0, 1, 2].map((i) => ({ x: x + size * Math.cos(2 * i), y: y + size * Math.sin(2 * i) }))
        const slow = ringsApart(ringOf(track), ring)
        const gap = fixedGap(track, { kind: 'obstacles', record: 'post', rings: [ring], isRoom: false })
        if (slow > 0) {
          apart += 1
          expect(Math.abs((gap?.gapMm ?? Infinity) - slow)).toBeLessThan(1e-6)
        } else expect(gap?.gapMm).toBeLessThanOrEqual(0)
      }),
      { numRuns: 150, seed: 61 },
    )
    expect(apart).toBeGreaterThan(50)
  })
})
