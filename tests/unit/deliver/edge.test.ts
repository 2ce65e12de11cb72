import { describe, expect, it } from 'vitest'
import { chainPoints, chainReverse, chainRing, chainRunsNear } from '../../../src/core/deliver/chain.ts'
import { EDGE_TOLERANCE_MM, edgeAlong, edgesAlong } from '../../../src/core/deliver/edge.ts'
import { pathFromElements, pathNearest, pathOffsetPoint } from '../../../src/core/geom/index.ts'

const origin = { x: 0, y: 0, headingRad: 0 }
const curvy = pathFromElements(origin, [
  { lengthMm: 200, k0: 0, k1: 0 },
  { lengthMm: 381, k0: 0, k1: 1 / 457.2 },
  { lengthMm: 500, k0: 1 / 457.2, k1: 1 / 457.2 },
  { lengthMm: 250, k0: 1 / 457.2, k1: -1 / 300 },
])

describe('edgesAlong', () => {
  it('keeps within its tolerance of the exact offset curve, on lines, easements and arcs', () => {
    for (const offset of [-40, -8.25, 0, 8.25, 9.1, 40]) {
      const chain = edgeAlong(curvy, 0, curvy.lengthMm, offset)
      for (const p of chainPoints(chain ?? { start: origin, segments: [] }, 23)) {
        expect(Math.abs(pathNearest(curvy, p).offsetMm - offset)).toBeLessThan(EDGE_TOLERANCE_MM)
      }
    }
  })

  it('follows a taper: the offset changes evenly with the station', () => {
    const [gauge, back] = edgesAlong(curvy, 250, 650, [
      { startMm: 0, endMm: 0 },
      { startMm: 0.1, endMm: 0.9 },
    ])
    expect(back?.segments.length).toBe(gauge?.segments.length)
    for (const p of chainPoints(back ?? { start: origin, segments: [] }, 23)) {
      const near = pathNearest(curvy, p)
      expect(Math.abs(near.offsetMm - (0.1 + (0.8 * (near.stationMm - 250)) / 400))).toBeLessThan(EDGE_TOLERANCE_MM)
    }
  })

  it('starts and ends exactly', () => {
    const chain = edgeAlong(curvy, 300, 1000, -8.25)
    const end = chain?.segments.at(-1)?.to
    const [a, b] = [pathOffsetPoint(curvy, 300, -8.25), pathOffsetPoint(curvy, 1000, -8.25)]
    expect(Math.hypot((chain?.start.x ?? NaN) - a.x, (chain?.start.y ?? NaN) - a.y)).toBeLessThan(1e-9)
    expect(Math.hypot((end?.x ?? NaN) - b.x, (end?.y ?? NaN) - b.y)).toBeLessThan(1e-9)
  })

  it('gives nothing for a stretch without length', () => {
    expect(edgesAlong(curvy, 100, 100, [{ startMm: 0, endMm: 0 }])).toEqual([])
    expect(edgeAlong(curvy, 5000, 6000, 0)).toBeNull()
  })
})

describe('chains', () => {
  const chain = edgeAlong(curvy, 0, curvy.lengthMm, 5) ?? { start: origin, segments: [] }

  it('turned round twice are the same', () => {
    expect(chainReverse(chainReverse(chain))).toEqual(chain)
  })

  it('closed to a ring return to their start', () => {
    const ring = chainRing(chain, chainReverse(chainReverse(chain)))
    expect(ring.segments.at(-1)?.to).toEqual(ring.start)
  })

  it('give all segments that touch a box and none that is clearly outside', () => {
    const box = { minX: 190, minY: -20, maxX: 320, maxY: 60 }
    const runs = chainRunsNear([chain], box)
    expect(runs).toHaveLength(1)
    const [from, to] = runs[0] ?? [0, 0]
    expect(to - from).toBeLessThan(chain.segments.length)
    const kept = { start: from === 0 ? chain.start : (chain.segments[from - 1]?.to ?? origin), segments: chain.segments.slice(from, to) }
    for (const p of chainPoints(chain, 40)) {
      if (p.x < box.minX || p.x > box.maxX || p.y < box.minY || p.y > box.maxY) continue
      expect(Math.min(...chainPoints(kept, 40).map((q) => Math.hypot(p.x - q.x, p.y - q.y)))).toBe(0)
    }
  })
})
