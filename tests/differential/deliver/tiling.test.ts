import { differenceD, FillRule, areaPathsD } from 'clipper2-ts'
import { describe, expect, it } from 'vitest'
import { sheetPlanCorners, sheetsForSubject, type SheetSubject } from '../../../src/core/deliver/index.ts'
import { lineTiling } from '../../../src/core/deliver/tiling/line.ts'
import { ringsShared } from '../../../src/core/deliver/tiling/joins.ts'
import { strandAlong } from '../../../src/core/deliver/tiling/strand.ts'
import { tileCorners } from '../../../src/core/deliver/tiling/tile.ts'
import type { Strand, TileWindow } from '../../../src/core/deliver/tiling/types.ts'
import { pathOffsetPoint } from '../../../src/core/geom/index.ts'
import type { Point } from '../../../src/core/geom/index.ts'
import { bandRing, bentLine, letterOptions, pathOf } from '../../support/lineStrands.ts'

// Oracle for areas: Clipper2, an independent polygon library (Angus Johnson).
const areaLeft = (band: readonly Point[], windows: readonly (readonly Point[])[]): number =>
  Math.abs(
    areaPathsD(
      differenceD(
        [[...band]],
        windows.map((ring) => [...ring]),
        FillRule.NonZero,
        6,
      ),
    ),
  )

const cases = [0.4, 1.3].flatMap((turn) => [280, 420].map((radius) => ({ turn, leg: 900, radius })))

describe('sheets along a line', () => {
  it.each(cases)('cover the whole band of ties: turn $turn rad, radius $radius mm', ({ turn, leg, radius }) => {
    const derived = bentLine(turn, leg, radius, true)
    const path = pathOf(derived)
    const halfMm = (derived.network.tracks.get('track-1')?.railway.tieLengthMm ?? 0) / 2
    expect(halfMm).toBeGreaterThan(5)
    for (const tiling of ['line', 'grid'] as const) {
      const { sheets } = sheetsForSubject(derived, { kind: 'track', id: 'track-1' }, { ...letterOptions, tiling })
      const windows = sheets.filter(({ kind }) => kind === 'full-size').map(sheetPlanCorners)
      expect(windows.length).toBeGreaterThan(5)
      const left = areaLeft(bandRing(path, 0, path.lengthMm, halfMm), windows)
      // The ring itself is a chain of millimetre chords: a square hundredth is rounding.
      expect(left).toBeLessThan(0.05)
    }
    // The proof can fail: without one of the sheets something is bare.
    const { sheets } = sheetsForSubject(derived, { kind: 'track', id: 'track-1' }, { ...letterOptions, tiling: 'line' })
    const fewer = sheets
      .filter(({ kind }) => kind === 'full-size')
      .slice(1)
      .map(sheetPlanCorners)
    expect(areaLeft(bandRing(path, 0, path.lengthMm, halfMm), fewer)).toBeGreaterThan(100)
  })

  it('cover a stretch and nothing is missing at its ends', () => {
    const derived = bentLine(0.8, 900, 350, true)
    const path = pathOf(derived)
    const halfMm = (derived.network.tracks.get('track-1')?.railway.tieLengthMm ?? 0) / 2
    const subject: SheetSubject = { kind: 'stretch', track: 'track-1', fromMm: 333, toMm: 1717 }
    const { sheets } = sheetsForSubject(derived, subject, { ...letterOptions, tiling: 'line' })
    const windows = sheets.filter(({ kind }) => kind === 'full-size').map(sheetPlanCorners)
    expect(areaLeft(bandRing(path, 333, 1717, halfMm), windows)).toBeLessThan(0.05)
    expect(areaLeft(bandRing(path, 0, path.lengthMm, halfMm), windows)).toBeGreaterThan(100)
  })

  it('show what two windows share as Clipper2 finds it', () => {
    const window: TileWindow = { widthMm: 190, heightMm: 237, overlapMm: 10 }
    let met = 0
    for (let i = 0; i < 60; i++) {
      const a = tileCorners({ name: 'a', origin: { x: 0, y: 0 }, angleRad: 0.1 * i }, window)
      const b = tileCorners({ name: 'b', origin: { x: 17 * (i % 13), y: 11 * (i % 9) }, angleRad: 1 - 0.07 * i }, window)
      const shared = ringsShared(a, b)
      const ours = Math.abs(areaPathsD([[...shared]]))
      const theirs = Math.abs(areaPathsD([[...a]])) - areaLeft(a, [b])
      expect(ours).toBeCloseTo(theirs, 2)
      if (ours > 1) met++
    }
    expect(met).toBeGreaterThan(20)
  })
})

describe('the number of sheets along a line', () => {
  /** Ribs of the brute force, 4 mm apart: [right, left] of the band. */
  const ribs = (strand: Strand): readonly (readonly Point[])[] => strand.ribs.map(({ points }) => points)

  /** Whether ribs from..to fit on a window at any of a thousand angles. */
  function fits(points: readonly Point[], window: TileWindow): boolean {
    for (let i = 0; i < 1000; i++) {
      const angle = (Math.PI * i) / 1000
      const [cos, sin] = [Math.cos(angle), Math.sin(angle)]
      let [minX, minY, maxX, maxY] = [Infinity, Infinity, -Infinity, -Infinity]
      for (const p of points) {
        const [x, y] = [p.x * cos + p.y * sin, p.y * cos - p.x * sin]
        minX = Math.min(minX, x)
        maxX = Math.max(maxX, x)
        minY = Math.min(minY, y)
        maxY = Math.max(maxY, y)
      }
      if (maxX - minX <= window.widthMm && maxY - minY <= window.heightMm) return true
    }
    return false
  }

  /** Fewest windows by going over all first and last ribs: shortest path, each window sharing the overlap with the next. */
  function fewestByForce(strand: Strand, window: TileWindow): number {
    const all = ribs(strand)
    const shared = Math.ceil(window.overlapMm / 4)
    // Farthest rib of a window that begins at rib i: what fits fits also without its last rib, so it is bisected.
    const farthest = (i: number): number => {
      let [low, high] = [i, all.length - 1]
      while (low < high) {
        const middle = Math.ceil((low + high) / 2)
        if (fits(all.slice(i, middle + 1).flat(), window)) low = middle
        else high = middle - 1
      }
      return low
    }
    const last = all.length - 1
    const counts = new Map<number, number>([[0, 0]])
    const queue = [0]
    for (const from of queue) {
      const count = (counts.get(from) ?? 0) + 1
      const to = farthest(from)
      if (to >= last) return count
      // Any end up to the farthest may be chosen; ends near it reach every better next begin.
      for (let end = to; end > Math.max(from, to - 3); end--) {
        const next = end - shared
        if (next > from && !counts.has(next)) {
          counts.set(next, count)
          queue.push(next)
        }
      }
    }
    return Infinity
  }

  it.each([
    { turn: 0.25, radius: 900, half: 15 },
    { turn: 0.5, radius: 300, half: 15 },
    { turn: 1.2, radius: 250, half: 20 },
    { turn: 1.2, radius: 400, half: 40 },
  ])('is within one of the best of a thousand angles: turn $turn, radius $radius, half width $half', ({ turn, radius, half }) => {
    const path = pathOf(bentLine(turn, 520, radius, false))
    const strand = strandAlong(path, 0, path.lengthMm, half, [], false)
    for (const window of [
      { widthMm: 190, heightMm: 237, overlapMm: 10 },
      { widthMm: 150, heightMm: 300, overlapMm: 16 },
    ]) {
      const found = lineTiling([strand], window, 100)?.tiles.length ?? NaN
      const best = fewestByForce(strand, window)
      expect(found).toBeLessThanOrEqual(best + 1)
      expect(found).toBeGreaterThanOrEqual(best)
    }
  })

  it('of a straight is what arithmetic says: a band lies best on a slant', () => {
    // Plane geometry, derived here: in a rectangle a x b a band of width w at angle t is as long as the lesser of
    // (a - w sin t) / cos t and (b - w cos t) / sin t; both are equal at the best t.
    const [a, b, w] = [237 - 0.5, 190 - 0.5, 30]
    const longest = Math.max(
      ...Array.from({ length: 9000 }, (_, i) => (i * Math.PI) / 2 / 9000).map((t) =>
        Math.min((a - w * Math.sin(t)) / Math.cos(t), (b - w * Math.cos(t)) / Math.sin(t)),
      ),
    )
    const straight = (lengthMm: number): Strand => ({
      ribs: Array.from({ length: Math.round(lengthMm / 4) + 1 }, (_, i) => ({
        stationMm: 4 * i,
        points: [
          { x: 4 * i, y: -w / 2 },
          { x: 4 * i, y: w / 2 },
        ],
      })),
    })
    const window = { widthMm: 237, heightMm: 190, overlapMm: 10 }
    expect(lineTiling([straight(Math.floor(longest / 4) * 4 - 4)], window, 9)?.tiles).toHaveLength(1)
    expect(lineTiling([straight(Math.ceil(longest / 4) * 4 + 4)], window, 9)?.tiles).toHaveLength(2)
    // Four sheets share three overlaps, each a rib or two longer than asked.
    expect(lineTiling([straight(Math.floor((4 * longest - 3 * 18) / 4) * 4 - 8)], window, 9)?.tiles).toHaveLength(4)
  })

  it('is none where a rib is wider than every page', () => {
    const path = pathOf(bentLine(0.5, 520, 300, false))
    expect(
      lineTiling([strandAlong(path, 0, path.lengthMm, 200, [], false)], { widthMm: 190, heightMm: 237, overlapMm: 10 }, 100),
    ).toBeNull()
    expect(pathOffsetPoint(path, 0, 200).y).toBeCloseTo(200, 6)
  })
})
