import { describe, expect, it } from 'vitest'
import { pathFromElements, pathNearest } from '../../../src/core/geom/index.ts'
import { railFlatten, railToCubics } from '../../../src/core/track/index.ts'
import type { Rail, RailEdge } from '../../../src/core/track/index.ts'

const path = pathFromElements({ x: 3, y: -2, headingRad: 0.4 }, [
  { lengthMm: 50, k0: 0, k1: 0 },
  { lengthMm: 120, k0: 0, k1: 1 / 400 },
  { lengthMm: 80, k0: 1 / 400, k1: 1 / 400 },
])
const rail: Rail = {
  role: 'left',
  gaugeLine: { path, offsetMm: 8.25, fromMm: 20, toMm: 230 },
  headSide: 1,
  headWidthMm: 0.86,
  footWidthMm: 1.75,
}

/** A left rail: the head lies left of its face, the foot centred under it. */
const offsets: Readonly<Record<RailEdge, number>> = {
  gauge: 8.25,
  'head-far': 8.25 + 0.86,
  'foot-left': 8.25 + 0.43 + 0.875,
  'foot-right': 8.25 + 0.43 - 0.875,
}
const edges = Object.keys(offsets) as RailEdge[]
const toleranceMm = 0.01

describe('edges of a rail', () => {
  it.each(edges)('%s: points lie on the exact offset, chords within the tolerance', (edge) => {
    const points = railFlatten(rail, edge, toleranceMm)
    for (const [i, point] of points.entries()) {
      expect(Math.abs(pathNearest(path, point).offsetMm - offsets[edge])).toBeLessThan(1e-9)
      const next = points[i + 1]
      if (!next) continue
      const middle = { x: (point.x + next.x) / 2, y: (point.y + next.y) / 2 }
      expect(Math.abs(pathNearest(path, middle).offsetMm - offsets[edge])).toBeLessThan(toleranceMm)
    }
    expect(pathNearest(path, points[0] ?? { x: 0, y: 0 }).stationMm).toBeCloseTo(20, 6)
    expect(pathNearest(path, points.at(-1) ?? { x: 0, y: 0 }).stationMm).toBeCloseTo(230, 6)
  })

  it.each(edges)('%s: curves follow it within the tolerance', (edge) => {
    const { start, segments } = railToCubics(rail, edge, toleranceMm)
    let from = start
    for (const { c1, c2, to } of segments) {
      for (const t of [0.25, 0.5, 0.75, 1]) {
        const u = 1 - t
        const mix = (a: number, b: number, c: number, d: number): number => u ** 3 * a + 3 * u * u * t * b + 3 * u * t * t * c + t ** 3 * d
        const at = { x: mix(from.x, c1.x, c2.x, to.x), y: mix(from.y, c1.y, c2.y, to.y) }
        expect(Math.abs(pathNearest(path, at).offsetMm - offsets[edge])).toBeLessThan(toleranceMm)
      }
      from = to
    }
  })

  it('a right rail has its head on the right', () => {
    const right: Rail = { ...rail, role: 'right', headSide: -1, gaugeLine: { ...rail.gaugeLine, offsetMm: -8.25 } }
    const [far] = railFlatten(right, 'head-far', toleranceMm)
    expect(pathNearest(path, far ?? { x: 0, y: 0 }).offsetMm).toBeCloseTo(-9.11, 9)
  })

  it('a planed head grows evenly from its edge to full, as points and as curves', () => {
    const planed: Rail = { ...rail, startHeadMm: 0.127 }
    for (const points of [
      railFlatten(planed, 'head-far', toleranceMm),
      [railToCubics(planed, 'head-far', toleranceMm)].flatMap(({ start, segments }) => [start, ...segments.map(({ to }) => to)]),
    ]) {
      for (const point of points) {
        const { stationMm, offsetMm } = pathNearest(path, point)
        const head = 0.127 + ((0.86 - 0.127) * (stationMm - 20)) / 210
        expect(Math.abs(offsetMm - 8.25 - head)).toBeLessThan(1e-6)
      }
    }
  })
})
