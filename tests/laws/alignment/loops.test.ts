import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { Alignment } from '../../../src/core/alignment/types.ts'
import { editApply, patchApply } from '../../../src/core/edit/index.ts'
import type { PlanCommand } from '../../../src/core/edit/index.ts'
import { elementEnd } from '../../../src/core/geom/index.ts'
import { networkCreateDeriver } from '../../../src/core/network/index.ts'
import type { Corner, Plan } from '../../../src/core/plan/index.ts'
import { aCorner, aTrack, planWith } from '../../support/plans.ts'

const SEED = 20261202

/** A loop of eight PIs round the origin, 1.6 to 2.4 m out: room for curves of half a metre. */
const base = planWith({
  tracks: [
    aTrack({
      start: { kind: 'free', x: 2400, y: 0 },
      corners: Array.from({ length: 8 }, (_, i) => {
        const armMm = i % 2 === 0 ? 2400 : 2100
        const direction = (Math.PI / 4) * (i + 0.5)
        return aCorner({ id: `pi-${i + 1}`, x: armMm * Math.cos(direction), y: armMm * Math.sin(direction) })
      }),
      end: { kind: 'closed' },
    }),
  ],
})

const millimetres = (min: number, max: number): fc.Arbitrary<number> => fc.double({ min, max, noNaN: true })
const byClass = (length: fc.Arbitrary<number>): fc.Arbitrary<number | 'class'> => fc.oneof(length, fc.constant('class' as const))
const radius = byClass(millimetres(250, 900))
const turn = fc.oneof(
  millimetres(0.05, 0.4).map((turnRad) => ({ kind: 'angle' as const, turnRad })),
  millimetres(0.1, 3).map((share) => ({ kind: 'share' as const, share })),
)
const compound: fc.Arbitrary<Corner['radius']> = fc.record({
  first: fc.record({ radius, turn }),
  next: fc.array(fc.record({ easement: byClass(millimetres(0, 60)), radius, turn }), { minLength: 1, maxLength: 2 }),
})
const curve = fc.record(
  {
    radius: fc.oneof(radius, fc.constant('easement-only' as const), compound),
    easementIn: byClass(millimetres(0, 150)),
    easementOut: byClass(millimetres(0, 150)),
  },
  { requiredKeys: [] },
)
const spot = fc.record({ armMm: millimetres(1500, 3000), shiftRad: millimetres(-0.3, 0.3) })

/** An edit by what it does, aimed at the corners that there are when it comes. */
type Aim = (plan: Plan) => PlanCommand | null

const cornersOf = (plan: Plan): readonly Corner[] => plan.tracks['track-1']?.corners ?? []
const atCorner =
  (pick: number, command: (corner: Corner, index: number) => PlanCommand): Aim =>
  (plan) => {
    const corners = cornersOf(plan)
    const index = pick % Math.max(1, corners.length)
    const corner = corners[index]
    return corner === undefined ? null : command(corner, index)
  }

const aims: fc.Arbitrary<Aim> = fc.oneof(
  fc.tuple(fc.nat(), spot).map(([pick, { armMm, shiftRad }]) =>
    atCorner(pick, ({ id, x, y }) => {
      const direction = Math.atan2(y, x) + shiftRad
      return {
        kind: 'corner.set',
        track: 'track-1',
        corner: id,
        change: { x: armMm * Math.cos(direction), y: armMm * Math.sin(direction) },
      }
    }),
  ),
  fc
    .tuple(fc.nat(), curve)
    .map(([pick, change]) => atCorner(pick, ({ id }) => ({ kind: 'corner.set', track: 'track-1', corner: id, change }))),
  fc.tuple(fc.nat(), millimetres(0.2, 0.8)).map(
    ([pick, part]): Aim =>
      (plan) => {
        const corners = cornersOf(plan)
        const index = pick % (corners.length + 1)
        const [a, b] = [corners.at(index - 1), corners[index] ?? corners[0]]
        if (a === undefined || b === undefined) return null
        const at = { x: 1.05 * (a.x + (b.x - a.x) * part), y: 1.05 * (a.y + (b.y - a.y) * part) }
        return { kind: 'corner.insert', track: 'track-1', index, corner: { ...at, radius: 500, easementIn: 0, easementOut: 20 } }
      },
  ),
  fc.nat().map((pick) => atCorner(pick, ({ id }) => ({ kind: 'corner.remove', track: 'track-1', corner: id }))),
  fc.constantFrom('main', 'branch', 'yard').map(
    (lineClass): Aim =>
      () => ({ kind: 'track.set', id: 'track-1', change: { lineClass } }),
  ),
  millimetres(300, 900).map(
    (usualRadiusMm): Aim =>
      () => ({ kind: 'lineClass.set', id: 'main', change: { usualRadiusMm } }),
  ),
  millimetres(0, 20).map(
    (shiftMm): Aim =>
      () => ({ kind: 'lineClass.set', id: 'main', change: { easement: { kind: 'shift', shiftMm } } }),
  ),
  fc.tuple(millimetres(-3000, 3000), millimetres(-3000, 3000)).map(
    ([x, y]): Aim =>
      () => ({ kind: 'track.setStart', id: 'track-1', start: { kind: 'free', x, y } }),
  ),
)

type Solved = Extract<Alignment, { ok: true }>

/** Gaps at the joint: place, heading less whole turns, and curvature. */
function joint({ path }: Solved): { readonly placeMm: number; readonly headingRad: number; readonly k: readonly [number, number] } {
  const first = path.elements[0]
  const last = path.elements.at(-1)
  if (first === undefined || last === undefined) throw new Error('a loop has elements')
  const end = elementEnd(last, last.start)
  const turns = (end.headingRad - first.start.headingRad) / (2 * Math.PI)
  return {
    placeMm: Math.hypot(end.x - first.start.x, end.y - first.start.y),
    headingRad: Math.abs(turns - Math.round(turns)) * 2 * Math.PI,
    k: [last.k1, first.k0],
  }
}

describe('a loop', () => {
  test('stays closed in place, heading and curvature under any run of edits', () => {
    let solved = 0
    let refused = 0
    let unsolved = 0
    let bareEnds = 0
    fc.assert(
      fc.property(fc.array(aims, { minLength: 4, maxLength: 12 }), (edits) => {
        const derive = networkCreateDeriver()
        let plan = base
        for (const aim of edits) {
          const command = aim(plan)
          const result = command === null ? null : editApply(plan, command)
          if (result === null || !result.ok) {
            refused++
            continue
          }
          plan = patchApply(plan, result.patch)
          // Closed is what the record says, whatever happens to its corners.
          expect(plan.tracks['track-1']?.end.kind).toBe('closed')
          const alignment = derive(plan).tracks.get('track-1')?.alignment
          if (alignment?.ok !== true) {
            unsolved++
            continue
          }
          solved++
          expect(alignment.isClosed).toBe(true)
          const { placeMm, headingRad, k } = joint(alignment)
          expect(placeMm).toBeLessThan(1e-6)
          expect(headingRad).toBeLessThan(1e-9)
          // Curvature is zero on both sides, but where station zero lies at the very end of a curve without an easement.
          const [last, first] = [alignment.corners.at(-1), alignment.corners[0]]
          if (k[0] !== 0) {
            expect(last?.solution.easementOutMm).toBe(0)
            expect(Math.abs(1 / k[0])).toBeCloseTo(last?.solution.arcs.at(-1)?.radiusMm ?? NaN, 9)
            bareEnds++
          }
          if (k[1] !== 0) {
            expect(first?.solution.easementInMm).toBe(0)
            expect(Math.abs(1 / k[1])).toBeCloseTo(first?.solution.arcs[0]?.radiusMm ?? NaN, 9)
            bareEnds++
          }
          for (const [i, element] of alignment.path.elements.entries()) {
            const next = alignment.path.elements[i + 1]
            if (next === undefined) continue
            const here = elementEnd(element, element.start)
            expect(Math.hypot(here.x - next.start.x, here.y - next.start.y)).toBeLessThan(1e-6)
            expect(Math.abs(here.headingRad - next.start.headingRad)).toBeLessThan(1e-9)
          }
        }
      }),
      { seed: SEED, numRuns: 120 },
    )
    // The law would say little if most edits led nowhere.
    expect(solved).toBeGreaterThan(300)
    expect(bareEnds).toBeLessThan(solved / 10)
    expect(solved + refused + unsolved).toBeGreaterThan(500)
  })

  const square = (sideMm: number, change: Partial<Corner>): Solved => {
    const corners = [
      [0, 0],
      [sideMm, 0],
      [sideMm, sideMm],
      [0, sideMm],
    ].map(([x = 0, y = 0], i) => aCorner({ id: `pi-${i + 1}`, x, y, ...change }))
    const plan = planWith({ tracks: [aTrack({ start: { kind: 'free', x: -50, y: 700 }, corners, end: { kind: 'closed' } })] })
    const alignment = networkCreateDeriver()(plan).tracks.get('track-1')?.alignment
    if (alignment?.ok !== true) throw new Error(JSON.stringify(alignment?.problems))
    return alignment
  }

  test('without any straight closes where two easements meet, at curvature zero', () => {
    // Easement-only corners: with sides of twice their tangent distance nothing is left between them.
    const roomy = square(4000, { radius: 'easement-only', easementIn: 600, easementOut: 600 })
    const tangentMm = roomy.corners[0]?.solution.tangentInMm ?? NaN
    const tight = square(2 * tangentMm, { radius: 'easement-only', easementIn: 600, easementOut: 600 })
    expect(tight.path.elements.length).toBe(8)
    const { placeMm, headingRad, k } = joint(tight)
    expect(placeMm).toBeLessThan(1e-6)
    expect(headingRad).toBeLessThan(1e-9)
    expect(k).toEqual([0, 0])
  })

  test('made of nothing but a circle closes at the curvature of the circle', () => {
    const circle = square(1000, { radius: 500, easementIn: 0, easementOut: 0 })
    const { placeMm, headingRad, k } = joint(circle)
    expect(circle.path.lengthMm).toBeCloseTo(1000 * Math.PI, 9)
    expect(placeMm).toBeLessThan(1e-6)
    expect(headingRad).toBeLessThan(1e-9)
    expect(k).toEqual([0.002, 0.002])
  })
})
