import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { ringArea } from '../../../src/core/geom/index.ts'
import type { Point } from '../../../src/core/geom/index.ts'
import { insideOf, ringSides, roomTraverse, shelfAlong, wallRun } from '../../../src/core/room/index.ts'
import type { MeasuredSide } from '../../../src/core/room/index.ts'

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
        const at = which % sides.length
        const less = roomTraverse(sides.with(at, { lengthMm: sides[at]?.lengthMm ?? 0, corner: { kind: 'none' } }), isSpread)
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
        const measured = ringSides(points).map(({ lengthMm, corner }, i): MeasuredSide => {
          const angleRad = (corner.kind === 'angle' ? corner.angleRad : NaN) + (errors[i]?.[1] ?? 0)
          return { lengthMm: lengthMm * (1 + (errors[i]?.[0] ?? 0)), corner: { kind: 'angle', angleRad } }
        })
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
        const angle =
          measured.reduce((sum, { corner }) => sum + (corner.kind === 'angle' ? corner.angleRad : NaN), 0) - (measured.length - 2) * Math.PI
        expect(found.misclosure.angleRad).toBeCloseTo(angle, 10)
      }),
    )
  })

  it('has the same corners from the diagonals across them as from their angles', () => {
    fc.assert(
      fc.property(fc.array(fc.double({ min: 2000, max: 5000, noNaN: true }), { minLength: 4, maxLength: 4 }), (at) => {
        const [a = 0, b = 0, c = 0, d = 0] = at
        const points = [
          { x: 0, y: 0 },
          { x: a, y: 0 },
          { x: b, y: c },
          { x: 0, y: d },
        ]
        const byAngle = ringSides(points)
        const across = byAngle.map(({ lengthMm }, i): MeasuredSide => {
          const [from, to] = [points[i], points[(i + 2) % 4]]
          return {
            lengthMm,
            corner: { kind: 'diagonal', lengthMm: Math.hypot((from?.x ?? 0) - (to?.x ?? 0), (from?.y ?? 0) - (to?.y ?? 0)) },
          }
        })
        fc.pre(byAngle.every(({ corner }) => corner.kind === 'angle' && corner.angleRad < 3))
        const found = roomTraverse(across, false)
        if (!found.ok) throw new Error(found.problem.kind)
        for (const [i, { x, y }] of found.points.entries())
          expect(Math.hypot(x - (points[i]?.x ?? 0), y - (points[i]?.y ?? 0))).toBeLessThan(1e-3)
      }),
    )
  })

  const square = (change: (side: MeasuredSide, i: number) => Partial<MeasuredSide>): readonly MeasuredSide[] =>
    Array.from({ length: 4 }, (_, i) => {
      const side: MeasuredSide = { lengthMm: 1000, corner: { kind: 'angle', angleRad: Math.PI / 2 } }
      return { ...side, ...change(side, i) }
    })
  it.each<[readonly MeasuredSide[], string]>([
    [square(() => ({})).slice(0, 2), 'fewSides'],
    [square((_, i) => (i === 2 ? { lengthMm: 0 } : {})), 'badLength'],
    [square((_, i) => (i < 2 ? { corner: { kind: 'none' } } : {})), 'anglesMissing'],
    [square((_, i) => (i === 1 ? { corner: { kind: 'angle', angleRad: -0.1 } } : {})), 'badAngle'],
    [square((_, i) => (i === 1 ? { lengthMm: 3000 } : {})), 'tooFarOff'],
    [square((_, i) => ({ corner: i === 0 ? { kind: 'none' } : { kind: 'angle', angleRad: 2.2 } })), 'badAngle'],
    [square((_, i) => (i === 3 ? { corner: { kind: 'diagonal', lengthMm: 2000 } } : {})), 'badDiagonal'],
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
        const shelf = shelfAlong(run, { side: insideOf(points), depthMm })
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

  it('ends along the walls that it meets, out of square as they are', () => {
    const round = [
      { x: 0, y: 0 },
      { x: 4000, y: 0 },
      { x: 4100, y: 3000 },
      { x: -200, y: 3000 },
    ]
    const run = wallRun(round, true, 0, 1)
    const shelf = shelfAlong(run.points, { side: 'left', depthMm: 600, beyond: run.beyond })
    if (!shelf.ok) throw new Error(shelf.problem.kind)
    const [, , right, left] = shelf.outline
    expect([right?.y, left?.y]).toEqual([600, 600])
    expect(right?.x).toBeCloseTo(4000 + (100 * 600) / 3000, 9)
    expect(left?.x).toBeCloseTo((-200 * 600) / 3000, 9)
    // On past the first point, and on an open wall in its own order whichever end is named first.
    expect(wallRun(round, true, 3, 0)).toEqual({ points: [round[3], round[0]], beyond: { before: round[2], after: round[1] } })
    expect(wallRun(round, false, 2, 0)).toEqual({ points: round.slice(0, 3), beyond: { before: null, after: round[3] } })
    expect(shelfAlong(run.points, { side: 'right', depthMm: 600, beyond: run.beyond })).toMatchObject({
      outline: [{ x: 0, y: -600 }, { x: 4000, y: -600 }, round[1], round[0]],
    })
  })

  it('refuses a depth at which its front would fold back, and takes one just below', () => {
    const niche = [
      { x: 0, y: 1000 },
      { x: 0, y: 0 },
      { x: 800, y: 0 },
      { x: 800, y: 1000 },
    ]
    expect(shelfAlong(niche, { side: 'left', depthMm: 399 })).toMatchObject({ ok: true })
    expect(shelfAlong(niche, { side: 'left', depthMm: 400 })).toMatchObject({ ok: false, problem: { kind: 'tooDeep', side: 1 } })
    expect(shelfAlong(niche.slice(0, 1), { side: 'left', depthMm: 100 })).toEqual({ ok: false, problem: { kind: 'noSides' } })
    expect(shelfAlong(niche, { side: 'left', depthMm: -1 })).toMatchObject({ problem: { kind: 'badDepth' } })
  })
})
