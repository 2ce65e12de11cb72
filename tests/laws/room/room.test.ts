import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { ringArea } from '../../../src/core/geom/index.ts'
import type { Point } from '../../../src/core/geom/index.ts'
import { insideOf, ringSides, roomTraverse, shelfAlong } from '../../../src/core/room/index.ts'

/** A room of four to nine corners about a middle: no side crosses another. */
const ring = fc
  .array(fc.record({ share: fc.double({ min: 0.5, max: 1, noNaN: true }), r: fc.double({ min: 900, max: 3000, noNaN: true }) }), {
    minLength: 4,
    maxLength: 9,
  })
  .map((corners): readonly Point[] => {
    const whole = corners.reduce((sum, { share }) => sum + share, 0)
    let at = 0
    return corners.map(({ share, r }) => {
      at += (share / whole) * 2 * Math.PI
      return { x: r * Math.cos(at), y: r * Math.sin(at) }
    })
  })

const around = (points: readonly Point[]): readonly number[] =>
  points.map((a, i) => {
    const b = points[(i + 1) % points.length] ?? a
    return Math.hypot(b.x - a.x, b.y - a.y)
  })

describe('a room from a tape', () => {
  it('comes out as it is when it was measured without error, whole or with one angle left out', () => {
    fc.assert(
      fc.property(ring, fc.boolean(), fc.nat(), (points, isSpread, which) => {
        const sides = ringSides(points)
        const found = roomTraverse(sides, isSpread)
        if (!found.ok) throw new Error(found.problem.kind)
        expect(found.misclosure.distanceMm).toBeLessThan(1e-8)
        expect(found.misclosure.angleRad).toBeCloseTo(0, 10)
        for (const [i, long] of around(found.points).entries()) expect(long).toBeCloseTo(sides[i]?.lengthMm ?? NaN, 7)
        expect(ringArea(found.points)).toBeCloseTo(Math.abs(ringArea(points)), 2)
        const less = roomTraverse(
          sides.with(which % sides.length, { ...(sides[which % sides.length] ?? { lengthMm: 0 }), angleRad: null }),
          isSpread,
        )
        if (!less.ok) throw new Error(less.problem.kind)
        expect(less.misclosure.angleRad).toBeNull()
        for (const [i, { x, y }] of less.points.entries()) {
          expect(x).toBeCloseTo(found.points[i]?.x ?? NaN, 6)
          expect(y).toBeCloseTo(found.points[i]?.y ?? NaN, 6)
        }
      }),
    )
  })

  it('gives every side its share of the error by its length, so that the round closes', () => {
    const off = fc.double({ min: -0.004, max: 0.004, noNaN: true })
    fc.assert(
      fc.property(ring, fc.array(fc.tuple(off, off), { minLength: 9, maxLength: 9 }), (points, errors) => {
        const measured = ringSides(points).map(({ lengthMm, angleRad }, i) => ({
          lengthMm: lengthMm * (1 + (errors[i]?.[0] ?? 0)),
          angleRad: (angleRad ?? 0) + (errors[i]?.[1] ?? 0),
        }))
        const found = roomTraverse(measured, true)
        if (!found.ok) throw new Error(found.problem.kind)
        const { dxMm, dyMm, perimeterMm } = found.misclosure
        // Each side of the closed room is what was measured less its share: added to it, all are as long as the tape said.
        for (const [i, { lengthMm }] of measured.entries()) {
          const [a, b] = [found.points[i], found.points[(i + 1) % measured.length]]
          if (a === undefined || b === undefined) throw new Error('a corner is missing')
          const share = lengthMm / perimeterMm
          expect(Math.hypot(b.x - a.x + dxMm * share, b.y - a.y + dyMm * share)).toBeCloseTo(lengthMm, 6)
        }
        const angle = measured.reduce((sum, side) => sum + side.angleRad, 0) - (measured.length - 2) * Math.PI
        expect(found.misclosure.angleRad).toBeCloseTo(angle, 10)
      }),
    )
  })

  it.each([
    [
      [
        { lengthMm: 1000, angleRad: 1 },
        { lengthMm: 1000, angleRad: 1 },
      ],
      'fewSides',
    ],
    [Array.from({ length: 4 }, (_, i) => ({ lengthMm: i === 2 ? 0 : 1000, angleRad: Math.PI / 2 })), 'badLength'],
    [Array.from({ length: 4 }, (_, i) => ({ lengthMm: 1000, angleRad: i < 2 ? null : Math.PI / 2 })), 'anglesMissing'],
    [Array.from({ length: 4 }, (_, i) => ({ lengthMm: 1000, angleRad: i === 1 ? -0.1 : Math.PI / 2 })), 'badAngle'],
    [Array.from({ length: 4 }, (_, i) => ({ lengthMm: i === 1 ? 3000 : 1000, angleRad: Math.PI / 2 })), 'tooFarOff'],
    [Array.from({ length: 4 }, (_, i) => ({ lengthMm: 1000, angleRad: i === 0 ? null : 2.2 })), 'badAngle'],
  ])('says what is wrong with measures that make no room (%#)', (sides, kind) => {
    const found = roomTraverse(sides, true)
    expect(found.ok ? 'ok' : found.problem.kind).toBe(kind)
  })
})

describe('a shelf along walls', () => {
  it('has its front edge as far from the wall as it is deep, along every side', () => {
    fc.assert(
      fc.property(ring, fc.double({ min: 50, max: 200, noNaN: true }), fc.integer({ min: 2, max: 4 }), (points, depthMm, corners) => {
        const run = points.slice(0, corners)
        const shelf = shelfAlong(run, insideOf(points), depthMm)
        if (!shelf.ok) return expect(shelf.problem.kind).toBe('tooDeep')
        const front = shelf.outline.slice(run.length).toReversed()
        for (const [i, b] of run.slice(1).entries()) {
          const [a, f, g] = [run[i], front[i], front[i + 1]]
          if (a === undefined || f === undefined || g === undefined) throw new Error('a point is missing')
          const long = Math.hypot(b.x - a.x, b.y - a.y)
          for (const at of [f, g]) expect(((b.x - a.x) * (at.y - a.y) - (b.y - a.y) * (at.x - a.x)) / long).toBeCloseTo(depthMm, 6)
        }
        // Wood is neither turned inside out nor longer than what is drawn: the outline goes round to the left.
        expect(ringArea(shelf.outline)).toBeGreaterThan(0)
      }),
    )
  })

  it('refuses a depth at which its front would fold back, and takes one just below', () => {
    const niche = [
      { x: 0, y: 1000 },
      { x: 0, y: 0 },
      { x: 800, y: 0 },
      { x: 800, y: 1000 },
    ]
    expect(shelfAlong(niche, 'left', 399)).toMatchObject({ ok: true })
    expect(shelfAlong(niche, 'left', 400)).toMatchObject({ ok: false, problem: { kind: 'tooDeep', side: 1 } })
    expect(shelfAlong(niche.slice(0, 1), 'left', 100)).toEqual({ ok: false, problem: { kind: 'noSides' } })
    expect(shelfAlong(niche, 'left', -1)).toMatchObject({ problem: { kind: 'badDepth' } })
  })
})
