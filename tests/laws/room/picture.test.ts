import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { pictureInverse, pictureMap, pictureToPlan } from '../../../src/core/room/index.ts'

const coordinate = fc.double({ min: -3000, max: 3000, noNaN: true })
const point = fc.record({ x: coordinate, y: coordinate })
const apart = (a: { x: number; y: number }, b: { x: number; y: number }): number => Math.hypot(a.x - b.x, a.y - b.y)

describe('a picture under the plan', () => {
  it('lies with its two places where they belong, neither bent nor mirrored', () => {
    fc.assert(
      fc.property(point, point, point, point, point, (p, q, r, a, b) => {
        fc.pre(apart(p, q) > 1 && apart(a, b) > 1)
        const map = pictureMap([
          { px: p, at: a },
          { px: q, at: b },
        ])
        if (map === null) throw new Error('no map')
        const [pa, qb, there] = [p, q, r].map((px) => pictureToPlan(map, px))
        if (!pa || !qb || !there) throw new Error('beyond')
        const factor = apart(a, b) / apart(p, q)
        expect(apart(pa, a)).toBeLessThan(1e-6 * Math.max(1, factor))
        expect(apart(qb, b)).toBeLessThan(1e-6 * Math.max(1, factor))
        expect(apart(pa, there)).toBeCloseTo(factor * apart(p, r), 3)
        // y of a picture runs down: what is clockwise in pixels is so in the plan as a person sees it, of opposite sign in numbers.
        const cross = (o: typeof p, u: typeof p, v: typeof p): number => (u.x - o.x) * (v.y - o.y) - (u.y - o.y) * (v.x - o.x)
        expect(cross(pa, qb, there) / (factor * factor)).toBeCloseTo(-cross(p, q, r), 0)
      }),
    )
  })

  it('is seen square again from the four corners of what was square', () => {
    // A camera that looks down at a slant: plan point (x, y) is seen at (x / (1 + y/5000), -y / (1 + y/5000)), pixels of 2 mm.
    const seen = ({ x, y }: { x: number; y: number }) => ({ x: x / 2 / (1 + y / 5000), y: -y / 2 / (1 + y / 5000) })
    const corners = [
      { x: 0, y: 0 },
      { x: 2440, y: 0 },
      { x: 2440, y: 1220 },
      { x: 0, y: 1220 },
    ]
    const map = pictureMap(corners.map((at) => ({ px: seen(at), at })))
    if (map === null) throw new Error('no map')
    const inverse = pictureInverse(map)
    fc.assert(
      fc.property(fc.double({ min: -500, max: 3000, noNaN: true }), fc.double({ min: -500, max: 2000, noNaN: true }), (x, y) => {
        const px = seen({ x, y })
        const there = pictureToPlan(map, px)
        if (there === null) throw new Error('beyond')
        expect(apart(there, { x, y })).toBeLessThan(1e-6)
        const [a = 0, b = 0, c = 0, d = 0, e = 0, f = 0, g = 0, h = 0, i = 0] = inverse
        const w = g * x + h * y + i
        expect(apart({ x: (a * x + b * y + c) / w, y: (d * x + e * y + f) / w }, px)).toBeLessThan(1e-6)
      }),
    )
  })

  it('knows its horizon when its corner lies above it', () => {
    // A camera held low: rows of the picture above y = 0 see the sky.
    const seen = ({ x, y }: { x: number; y: number }) => ({ x: x / (1 + y / 1000), y: 3000 - (3000 * (y / 1000)) / (1 + y / 1000) })
    const corners = [
      { x: 0, y: 0 },
      { x: 2000, y: 0 },
      { x: 2000, y: 900 },
      { x: 0, y: 900 },
    ]
    const map = pictureMap(corners.map((at) => ({ px: seen(at), at })))
    if (map === null) throw new Error('no map')
    expect(pictureToPlan(map, { x: 0, y: -10 })).toBeNull()
    expect(pictureToPlan(map, seen({ x: 300, y: 5000 }))?.y).toBeCloseTo(5000, 4)
  })

  it('cannot lie by places that do not say how', () => {
    const at = (x: number, y: number) => ({ px: { x, y: -y }, at: { x, y } })
    expect(pictureMap([at(0, 0)])).toBeNull()
    expect(pictureMap([at(5, 5), at(5, 5)])).toBeNull()
    expect(pictureMap([at(0, 0), at(100, 0), at(200, 0), at(0, 100)])).toBeNull()
    expect(pictureMap([at(0, 0), at(100, 0), at(100, 100), at(0, 100)])).not.toBeNull()
    const crossed = [
      at(0, 0),
      at(100, 0),
      { px: { x: 0, y: -100 }, at: { x: 100, y: 100 } },
      { px: { x: 100, y: -100 }, at: { x: 0, y: 100 } },
    ]
    expect(pictureMap(crossed)).toBeNull()
  })
})
