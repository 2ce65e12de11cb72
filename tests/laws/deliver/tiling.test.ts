import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { planToPage, sheetsForSubject, type Sheet, type SheetSet, type SheetSubject } from '../../../src/core/deliver/index.ts'
import { layingOrder } from '../../../src/core/deliver/tiling/order.ts'
import { pathOffsetPoint, pointDistance, type Point } from '../../../src/core/geom/index.ts'
import type { Derived } from '../../../src/core/pipeline/index.ts'
import { bentLine, letterOptions, pathOf } from '../../support/lineStrands.ts'
import { pageToPlanByHand } from '../../support/sheetProof.ts'

const seeded = (numRuns: number) => ({ seed: 20261126, numRuns })

const line: fc.Arbitrary<Derived> = fc
  .record({
    turn: fc.oneof(fc.double({ min: 0.3, max: 1.4, noNaN: true }), fc.double({ min: -1.4, max: -0.3, noNaN: true })),
    leg: fc.double({ min: 850, max: 1100, noNaN: true }),
    radius: fc.double({ min: 250, max: 420, noNaN: true }),
    hasTurnout: fc.boolean(),
  })
  .map(({ turn, leg, radius, hasTurnout }) => bentLine(turn, leg, radius, hasTurnout))

const whole: SheetSubject = { kind: 'track', id: 'track-1' }
const full = ({ sheets }: SheetSet): readonly Sheet[] => sheets.filter(({ kind }) => kind === 'full-size')

/** Middles of the match crosses of a sheet in the plan: two strokes each that halve one another. */
function crossMiddles(sheet: Sheet): readonly Point[] {
  const middles = sheet.items.flatMap((item): readonly Point[] => {
    if (item.kind !== 'stroke' || item.role !== 'match') return []
    const to = item.segments.at(-1)?.to
    return to ? [{ x: (item.start.x + to.x) / 2, y: (item.start.y + to.y) / 2 }] : []
  })
  const crosses = middles.filter((p, i) => middles.findIndex((q) => pointDistance(p, q) < 1e-6) < i)
  return crosses.map((p) => pageToPlanByHand(sheet, p))
}

describe('sheets along a line', () => {
  it('are never more than those in rows, and the fewest are the fewer of both', () => {
    let fewer = 0
    fc.assert(
      fc.property(line, (derived) => {
        const count = (tiling: 'grid' | 'line' | 'fewest'): number =>
          full(sheetsForSubject(derived, whole, { ...letterOptions, tiling })).length
        const [grid, along, fewest] = [count('grid'), count('line'), count('fewest')]
        expect(fewest).toBe(Math.min(grid, along))
        if (along < grid) fewer++
      }),
      seeded(3),
    )
    expect(fewer).toBeGreaterThan(1)
  })

  it('show each match mark on two sheets or more, at one place of the plan, well apart and inside of the window', () => {
    fc.assert(
      fc.property(line, (derived) => {
        const sheets = full(sheetsForSubject(derived, whole, { ...letterOptions, tiling: 'line' }))
        const marks = sheets.map(crossMiddles)
        for (const [i, sheet] of sheets.entries()) {
          const { minX, minY, maxX, maxY } = sheet.window
          const own = marks[i] ?? []
          // In a chain an end sheet has one neighbour, all others two: two crosses each.
          expect(own).toHaveLength(i === 0 || i === sheets.length - 1 ? 2 : 4)
          for (const p of own) {
            const page = planToPage(sheet.toPage, p)
            expect(page.x > minX && page.x < maxX && page.y > minY && page.y < maxY).toBe(true)
            const others = marks.filter((of, k) => k !== i && of.some((q) => pointDistance(p, q) < 1e-6))
            expect(others).toHaveLength(1)
          }
          for (const [k, p] of own.entries()) {
            // A tenth of a millimetre by eye over 15 mm turns a sheet by less than half a degree.
            for (const q of own.slice(k + 1)) expect(pointDistance(p, q)).toBeGreaterThan(15)
          }
        }
      }),
      seeded(6),
    )
  })

  it('share at least the overlap of the line with the next', () => {
    fc.assert(
      fc.property(line, fc.integer({ min: 6, max: 30 }), (derived, overlapMm) => {
        const sheets = full(sheetsForSubject(derived, whole, { ...letterOptions, overlapMm, tiling: 'line' }))
        const { elements } = pathOf(derived)
        expect(elements.length).toBeGreaterThan(2)
        // The printed centreline of each sheet, cut to its window by station: as points of the plan.
        for (const [i, sheet] of sheets.slice(1).entries()) {
          const before = sheets[i]
          expect(before).toBeDefined()
          if (!before) continue
          const inBoth = (p: Point): boolean =>
            [before, sheet].every(({ toPage, window: { minX, minY, maxX, maxY } }) => {
              const { x, y } = planToPage(toPage, p)
              return x >= minX && x <= maxX && y >= minY && y <= maxY
            })
          const path = pathOf(derived)
          let stationsIn = 0
          for (let s = 0; s < path.lengthMm; s += 1) {
            const at = elementsAt(derived, s)
            if (inBoth(at)) stationsIn++
          }
          expect(stationsIn).toBeGreaterThanOrEqual(overlapMm - 1)
        }
      }),
      seeded(4),
    )
  })
})

function elementsAt(derived: Derived, station: number): Point {
  return pathOffsetPoint(pathOf(derived), station, 0)
}

describe('the order of laying', () => {
  it('names every sheet once and joins each but the first of a group to one that lies already', () => {
    const names = fc.integer({ min: 1, max: 30 }).map((n) => Array.from({ length: n }, (_, i) => `S${i}`))
    fc.assert(
      fc.property(names, fc.array(fc.tuple(fc.nat(29), fc.nat(29)), { maxLength: 50 }), (all, pairs) => {
        const joins = pairs.flatMap(([i, k]) => {
          const [a, b] = [all[i % all.length], all[k % all.length]]
          return a !== undefined && b !== undefined && a !== b ? [{ a, b }] : []
        })
        const steps = layingOrder(all, joins)
        expect(steps.map(({ name }) => name).toSorted()).toEqual(all.toSorted())
        const laid: string[] = []
        for (const { name, to } of steps) {
          expect(to.every((other) => laid.includes(other.name))).toBe(true)
          // A new start only when nothing that is left joins what lies.
          const left = all.filter((one) => !laid.includes(one))
          const couldJoin = left.some((one) => joins.some(({ a, b }) => (a === one && laid.includes(b)) || (b === one && laid.includes(a))))
          expect(to.length > 0).toBe(couldJoin)
          laid.push(name)
        }
      }),
      seeded(60),
    )
  })
})

describe('parts of a plan', () => {
  const derived = bentLine(0.9, 900, 350, true)
  const problems = (subject: SheetSubject): string => sheetsForSubject(derived, subject, letterOptions).problems.join(' ')

  it('say what is wrong with a stretch', () => {
    const stretch = (fromMm: number, toMm: number | 'end'): SheetSubject => ({ kind: 'stretch', track: 'track-1', fromMm, toMm })
    expect(problems(stretch(500, 500))).toMatch(/has no length\. Give two stations that are apart/)
    expect(problems(stretch(500, 400))).toMatch(/before its start at 500 mm\. Give the lower station first/)
    expect(problems(stretch(500, 99_000))).toMatch(/99000 mm is not on the track: .* runs from/)
    expect(problems(stretch(NaN, 400))).toMatch(/needs two stations/)
    expect(problems(stretch(500, 'end'))).toBe('')
  })

  it('say what is wrong with a rectangle', () => {
    const region = (minX: number, minY: number, maxX: number, maxY: number): SheetSubject => ({
      kind: 'region',
      box: { minX, minY, maxX, maxY },
    })
    expect(problems(region(0, 0, 0, 500))).toMatch(/needs a width and a height/)
    expect(problems(region(0, 5000, 500, 6000))).toMatch(/No track lies in the rectangle/)
    expect(problems(region(0, 0, NaN, 500))).toMatch(/needs a width and a height/)
    expect(problems(region(-50, -50, 600, 50))).toBe('')
  })

  it('say what is wrong with paper, margin and overlap', () => {
    const say = (change: object): string => sheetsForSubject(derived, whole, { ...letterOptions, ...change }).problems.join(' ')
    expect(say({ marginMm: 120 })).toMatch(/Two margins of 120 mm leave nothing of 215\.9 mm/)
    expect(say({ overlapMm: 200 })).toMatch(/The overlap is 200 mm; .*from 6 to/)
    expect(say({ paper: { name: 'Roll', widthMm: 600, heightMm: 6000, isRoll: true } })).toMatch(/14,400 points, 5080 mm or 200 in/)
    expect(say({ paper: { name: 'Own size', widthMm: 330.2, heightMm: 482.6 } })).toBe('')
  })

  it('take in no more than they say', () => {
    const region: SheetSubject = { kind: 'region', box: { minX: -50, minY: -50, maxX: 400, maxY: 50 } }
    const part = full(sheetsForSubject(derived, region, letterOptions)).length
    const all = full(sheetsForSubject(derived, { kind: 'all' }, letterOptions)).length
    expect(part).toBeGreaterThan(0)
    expect(part).toBeLessThan(all / 2)
  })
})
