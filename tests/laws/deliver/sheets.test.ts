import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { sheetPlanCorners, sheetsForSubject } from '../../../src/core/deliver/index.ts'
import type { DrawItem, Sheet, SheetOptions, SheetSet, SheetSubject } from '../../../src/core/deliver/index.ts'
import type { Point } from '../../../src/core/geom/index.ts'
import { pipelineCreate } from '../../../src/core/pipeline/index.ts'
import type { Plan } from '../../../src/core/plan/index.ts'
import { aCorner, aTrack, aTurnout, planWith } from '../../support/plans.ts'

const seeded = (numRuns: number) => ({ seed: 20261125, numRuns })

const coordinate = fc.double({ min: -1500, max: 1500, noNaN: true })
const length = fc.double({ min: 1, max: 900, noNaN: true })
const hostile = fc.constantFrom(NaN, Infinity, -1, 0, 1e9)

const turnoutArbitrary = fc
  .record({
    stationMm: fc.double({ min: 60, max: 400, noNaN: true }),
    frog: fc.double({ min: 4, max: 8, noNaN: true }),
    hand: fc.constantFrom('left' as const, 'right' as const),
    facing: fc.constantFrom('rising' as const, 'falling' as const),
  })
  .map((change) => aTurnout(change))

/** A traverse that usually solves: long sides, fair turns, curves that fit; it starts anywhere and heads anywhere. */
const goodPlan: fc.Arbitrary<Plan> = fc
  .record({
    x: coordinate,
    y: coordinate,
    heading: fc.double({ min: -4, max: 4, noNaN: true }),
    legs: fc.array(
      fc.record({
        side: fc.double({ min: 700, max: 1100, noNaN: true }),
        turn: fc.oneof(fc.double({ min: 0.3, max: 1.2, noNaN: true }), fc.double({ min: -1.2, max: -0.3, noNaN: true })),
        radius: fc.double({ min: 250, max: 450, noNaN: true }),
        easement: fc.oneof(fc.double({ min: 20, max: 70, noNaN: true }), fc.constant(0)),
      }),
      { minLength: 1, maxLength: 3 },
    ),
    turnout: turnoutArbitrary,
    hasSpur: fc.boolean(),
  })
  .map(({ x, y, heading, legs, turnout, hasSpur }) => {
    let [px, py, h] = [x, y, heading]
    const ahead = (side: number): Point => {
      px += side * Math.cos(h)
      py += side * Math.sin(h)
      return { x: px, y: py }
    }
    const corners = legs.map(({ side, turn, radius, easement }, i) => {
      const pi = ahead(side)
      h += turn
      return aCorner({ id: `pi-${i + 1}`, ...pi, radius, easementIn: easement, easementOut: easement })
    })
    const end = ahead(800)
    const spur = aTrack({
      id: 'track-2',
      name: 'Spur',
      start: { kind: 'leg', turnout: 'turnout-1', leg: 'diverging' },
      end: { kind: 'free', ...end },
    })
    return planWith({
      tracks: [aTrack({ start: { kind: 'free', x, y }, corners, end: { kind: 'free', ...end } }), ...(hasSpur ? [spur] : [])],
      turnouts: [turnout],
    })
  })

/** PIs anywhere: sharp reversals, curves that do not fit, loops that cross themselves. Few of these can be solved. */
const wildPlan: fc.Arbitrary<Plan> = fc
  .record({
    corners: fc.array(
      fc.record({
        x: coordinate,
        y: coordinate,
        radius: fc.oneof(length, fc.constant('easement-only' as const)),
        easement: fc.oneof(length, fc.constant('class' as const)),
      }),
      { maxLength: 3 },
    ),
    end: fc.record({ x: coordinate, y: coordinate }),
    isLoop: fc.boolean(),
    turnout: turnoutArbitrary,
  })
  .map(({ corners, end, isLoop, turnout }) =>
    planWith({
      tracks: [
        aTrack({
          corners: corners.map(({ x, y, radius, easement }, i) =>
            aCorner({ id: `pi-${i + 1}`, x, y, radius, easementIn: easement, easementOut: easement }),
          ),
          end: isLoop ? { kind: 'closed' } : { kind: 'free', ...end },
        }),
      ],
      turnouts: [turnout],
    }),
  )

const planArbitrary = fc.oneof({ weight: 3, arbitrary: goodPlan }, { weight: 1, arbitrary: wildPlan })

const subjectArbitrary: fc.Arbitrary<SheetSubject> = fc.constantFrom<SheetSubject>(
  { kind: 'turnout', id: 'turnout-1' },
  { kind: 'curve', track: 'track-1', corner: 'pi-1' },
  { kind: 'curve', track: 'track-1', corner: 'pi-2' },
  { kind: 'track', id: 'track-1' },
  { kind: 'track', id: 'track-2' },
  { kind: 'all' },
)

const soundOptions: fc.Arbitrary<SheetOptions> = fc.record({
  paper: fc.record({
    name: fc.constant('Paper'),
    widthMm: fc.integer({ min: 190, max: 900 }),
    heightMm: fc.integer({ min: 190, max: 900 }),
  }),
  marginMm: fc.integer({ min: 0, max: 15 }),
  overlapMm: fc.integer({ min: 6, max: 20 }),
  calibrationX: fc.double({ min: 0.98, max: 1.02, noNaN: true }),
  calibrationY: fc.double({ min: 0.98, max: 1.02, noNaN: true }),
  units: fc.constantFrom('imperial' as const, 'metric' as const),
  date: fc.constant('2026-11-25'),
})

const anyOptions: fc.Arbitrary<SheetOptions> = fc
  .record({
    base: soundOptions,
    key: fc.constantFrom('marginMm', 'overlapMm', 'calibrationX', 'calibrationY', 'widthMm', 'heightMm'),
    value: hostile,
  })
  .map(({ base, key, value }) =>
    key === 'widthMm' || key === 'heightMm' ? { ...base, paper: { ...base.paper, [key]: value } } : { ...base, [key]: value },
  )

function sheetsOf(plan: Plan, subject: SheetSubject, options: SheetOptions): SheetSet {
  return sheetsForSubject(pipelineCreate().derive(plan), subject, options)
}

function pointsOf(item: DrawItem): readonly Point[] {
  if (item.kind === 'text') return [item.at, { x: item.angleRad, y: item.sizeMm }]
  return [
    item.start,
    ...item.segments.flatMap((segment) => (segment.kind === 'line' ? [segment.to] : [segment.c1, segment.c2, segment.to])),
  ]
}

describe('sheets of any plan', () => {
  it('are sheets or problems, never an exception, and hold finite numbers only', () => {
    let drawn = 0
    fc.assert(
      fc.property(
        planArbitrary,
        subjectArbitrary,
        fc.oneof({ weight: 4, arbitrary: soundOptions }, { weight: 1, arbitrary: anyOptions }),
        (plan, subject, options) => {
          const set = sheetsOf(plan, subject, options)
          expect(set.sheets.length === 0).toBe(set.problems.length > 0)
          if (set.sheets.length > 0) drawn++
          for (const sheet of set.sheets) {
            const odd = sheet.items.flatMap(pointsOf).filter((p) => !Number.isFinite(p.x) || !Number.isFinite(p.y))
            expect(odd).toEqual([])
          }
        },
      ),
      seeded(50),
    )
    // The generator must not only make plans that cannot be drawn.
    expect(drawn).toBeGreaterThan(12)
  })

  it('draw nothing far outside of the window but straight pieces that run through it', () => {
    fc.assert(
      fc.property(goodPlan, subjectArbitrary, soundOptions, (plan, subject, options) => {
        for (const sheet of sheetsOf(plan, subject, options).sheets) {
          if (sheet.kind === 'index') continue
          for (const item of sheet.items) {
            if (item.kind === 'text' || item.layer === 'benchwork' || item.role === 'tangent') continue
            // Pieces are at most 400 mm long, so none that touches the window reaches farther than that.
            for (const p of pointsOf(item)) expect(distanceOutside(sheet, p)).toBeLessThan(420)
          }
        }
      }),
      seeded(15),
    )
  })

  it('overlap as asked wherever they lie side by side', () => {
    fc.assert(
      fc.property(goodPlan, soundOptions, (plan, options) => {
        const sheets = sheetsOf(plan, { kind: 'all' }, options).sheets.filter((sheet) => sheet.kind === 'full-size')
        for (const a of sheets) {
          for (const b of sheets) {
            if (!isRightOf(a, b)) continue
            const [, lowerRight] = sheetPlanCorners(a)
            const [lowerLeft] = sheetPlanCorners(b)
            const gap = Math.hypot((lowerRight?.x ?? NaN) - (lowerLeft?.x ?? NaN), (lowerRight?.y ?? NaN) - (lowerLeft?.y ?? NaN))
            // Overlap is a length of the plan, whatever the printer: exact up to rounding.
            expect(Math.abs(gap - options.overlapMm)).toBeLessThan(1e-6)
          }
        }
      }),
      seeded(12),
    )
  })

  it('of a turned plan carry the same rails at the same places', () => {
    fc.assert(
      fc.property(fc.double({ min: -3, max: 3, noNaN: true }), coordinate, coordinate, fc.boolean(), (turn, x, y, isLeft) => {
        const at = (s: number): Point => ({ x: x + s * Math.cos(turn), y: y + s * Math.sin(turn) })
        const straight = (from: Point, to: Point) =>
          planWith({
            tracks: [aTrack({ start: { kind: 'free', ...from }, end: { kind: 'free', ...to } })],
            turnouts: [aTurnout({ hand: isLeft ? 'left' : 'right' })],
          })
        const options: SheetOptions = {
          paper: { name: 'Letter', widthMm: 215.9, heightMm: 279.4 },
          marginMm: 10,
          overlapMm: 12,
          calibrationX: 1,
          calibrationY: 1,
          units: 'imperial',
          date: '',
        }
        const here = railsOf(sheetsOf(straight({ x: 0, y: 0 }, { x: 2000, y: 0 }), { kind: 'turnout', id: 'turnout-1' }, options))
        const there = railsOf(sheetsOf(straight(at(0), at(2000)), { kind: 'turnout', id: 'turnout-1' }, options))
        expect(there.length).toBe(here.length)
        const apart = here.map((p, i) => Math.hypot(p.x - (there[i]?.x ?? NaN), p.y - (there[i]?.y ?? NaN)))
        expect(Math.max(...apart)).toBeLessThan(1e-6)
      }),
      seeded(10),
    )
  })
})

function railsOf(set: SheetSet): readonly Point[] {
  const full = set.sheets.filter((sheet) => sheet.kind === 'full-size')
  return full.flatMap((sheet) =>
    sheet.items.flatMap((item) => (item.kind === 'stroke' && item.role === 'rail-gauge' ? pointsOf(item) : [])),
  )
}

function distanceOutside(sheet: Sheet, p: Point): number {
  const { minX, minY, maxX, maxY } = paperBox(sheet)
  return Math.max(minX - p.x, p.x - maxX, minY - p.y, p.y - maxY, 0)
}

/** The frame and bars of a sheet stand outside of its window: the paper is the outermost. */
function paperBox(sheet: Sheet) {
  return { minX: 0, minY: 0, maxX: sheet.paper.widthMm, maxY: sheet.paper.heightMm }
}

/** True when b's name says that it stands one column right of a. */
function isRightOf(a: Sheet, b: Sheet): boolean {
  const place = (name: string) => /^([A-Z]+)(\d+)$/.exec(name)
  const [pa, pb] = [place(a.name), place(b.name)]
  return pa !== null && pb !== null && pa[1] === pb[1] && Number(pb[2]) === Number(pa[2]) + 1
}
