import { isDeepStrictEqual } from 'node:util'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { checksCreateRunner, findingsOf } from '../../../src/core/checks/index.ts'
import type { Finding } from '../../../src/core/checks/index.ts'
import { networkCreateDeriver } from '../../../src/core/network/index.ts'
import { dataFreeze } from '../../../src/core/plan/index.ts'
import type { Plan } from '../../../src/core/plan/index.ts'
import { planFindings } from '../../support/checks.ts'
import { aCorner, aTrack, aTurnout, planWith } from '../../support/plans.ts'
import { aDoor, aHatch, aPost, aRoom, aShelf, box } from '../../support/rooms.ts'

const SEED = 20261126

const roomTo = (maxX: number, maxY: number) => aRoom({ points: box(0, 0, maxX, maxY) })

/** A room with shelves on two sides and a peninsula, tracks on all of them, a door, a hatch and joists. */
const basePlan = (): Plan =>
  planWith({
    railway: { reachMm: 600 },
    walls: [roomTo(4000, 3000)],
    openings: [aDoor()],
    obstacles: [aPost(box(2500, 1300, 2600, 1400))],
    benchworks: [
      aShelf(box(0, 2200, 4000, 3000)),
      aShelf(box(3300, 0, 4000, 2200), { id: 'benchwork-2' }),
      aShelf(box(1900, 0, 2200, 1700), { id: 'benchwork-3' }),
    ],
    hatches: [aHatch(box(3300, 2300, 3800, 2800))],
    tracks: [
      aTrack({
        start: { kind: 'free', x: 100, y: 2850 },
        corners: [aCorner({ x: 3700, y: 2850 })],
        end: { kind: 'free', x: 3700, y: 100 },
      }),
      aTrack({ id: 'track-2', start: { kind: 'free', x: 2050, y: 100 }, end: { kind: 'free', x: 2050, y: 1600 } }),
    ],
    turnouts: [aTurnout({ stationMm: 450 })],
  })

const at = fc.integer({ min: 0, max: 30 }).map((n) => 100 * n)
const edit: fc.Arbitrary<(plan: Plan) => Plan> = fc.oneof(
  fc.tuple(fc.integer({ min: 3200, max: 4200 }), fc.integer({ min: 2400, max: 3200 })).map(([x, y]) => (plan: Plan) => ({
    ...plan,
    walls: { 'wall-1': roomTo(x, y) },
  })),
  at.map((y) => (plan: Plan) => ({
    ...plan,
    benchworks: { ...plan.benchworks, 'benchwork-3': aShelf(box(1900, 0, 2200, 100 + y), { id: 'benchwork-3' }) },
  })),
  fc.tuple(at, at).map(([x, y]) => (plan: Plan) => ({ ...plan, obstacles: { 'obstacle-1': aPost(box(x, y, x + 300, y + 80)) } })),
  fc.tuple(at, at).map(([x, y]) => (plan: Plan) => ({ ...plan, hatches: { 'hatch-1': aHatch(box(x, y, x + 520, y + 510)) } })),
  fc.constant((plan: Plan) => ({ ...plan, hatches: {} })),
  at.map((fromMm) => (plan: Plan) => ({ ...plan, openings: { 'opening-1': aDoor({ fromMm }) } })),
  fc.integer({ min: 300, max: 900 }).map((reachMm) => (plan: Plan) => ({ ...plan, railway: { ...plan.railway, reachMm } })),
  fc.integer({ min: 300, max: 900 }).map((aisleMm) => (plan: Plan) => ({ ...plan, railway: { ...plan.railway, aisleMm } })),
  at.map((y) => (plan: Plan) => ({
    ...plan,
    tracks: {
      ...plan.tracks,
      'track-2': aTrack({ id: 'track-2', start: { kind: 'free', x: 2050, y }, end: { kind: 'free', x: 2600, y: y + 50 } }),
    },
  })),
  fc.integer({ min: 0, max: 2000 }).map((stationMm) => (plan: Plan) => ({ ...plan, turnouts: { 'turnout-1': aTurnout({ stationMm }) } })),
)

const rules = ['reach', 'aisle', 'door-swing', 'hatch-size', 'hatch-place', 'bench-overlap']

describe('checks of the room', () => {
  it('say step by step what they say from scratch', () => {
    const seen = new Set<string>()
    fc.assert(
      fc.property(fc.array(edit, { minLength: 3, maxLength: 8 }), (edits) => {
        const networkOf = networkCreateDeriver()
        const check = checksCreateRunner()
        let plan = basePlan()
        check({ plan, network: networkOf(plan) })
        for (const one of edits) {
          plan = dataFreeze(one(plan))
          const kept = check({ plan, network: networkOf(plan) })
          for (const { rule } of kept) seen.add(rule)
          expect(isDeepStrictEqual(kept, findingsOf({ plan, network: networkCreateDeriver()(plan) }))).toBe(true)
        }
      }),
      { seed: SEED, numRuns: 25 },
    )
    expect(rules.filter((rule) => !seen.has(rule))).toEqual([])
  })

  const reachOf = (plan: Plan): readonly Finding[] => planFindings(plan).filter(({ rule }) => rule === 'reach')
  const isWithin = (one: Finding, others: readonly Finding[]): boolean =>
    others.some(
      ({ record, stationFromMm, stationToMm }) =>
        record === one.record &&
        (stationFromMm ?? 0) <= (one.stationFromMm ?? 0) + 0.5 &&
        (stationToMm ?? 0) >= (one.stationToMm ?? 0) - 0.5,
    )

  it('find no less out of reach when a wall comes nearer', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 1200 }), fc.integer({ min: 1, max: 400 }), (left, nearer) => {
        // The left wall alone comes nearer; shelves and tracks stay, and those that it comes into stay where they are.
        const plan = (x: number): Plan => ({ ...basePlan(), walls: { 'wall-1': aRoom({ points: box(x, 0, 4000, 3000) }) } })
        const after = reachOf(plan(left + nearer))
        return reachOf(plan(left)).every((finding) => isWithin(finding, after))
      }),
      { seed: SEED, numRuns: 25 },
    )
  })

  it('find no more out of reach when the hand reaches farther', () => {
    fc.assert(
      fc.property(fc.integer({ min: 200, max: 900 }), fc.integer({ min: 1, max: 300 }), (reachMm, more) => {
        const plan = (mm: number): Plan => {
          const base = basePlan()
          return { ...base, railway: { ...base.railway, reachMm: mm } }
        }
        const before = reachOf(plan(reachMm))
        return reachOf(plan(reachMm + more)).every((finding) => isWithin(finding, before))
      }),
      { seed: SEED, numRuns: 25 },
    )
  })

  it('find an aisle no wider when a wall comes nearer', () => {
    const pinched = (wallY: number): number | null => {
      const plan = planWith({
        railway: { aisleMm: 610 },
        walls: [roomTo(4000, wallY)],
        benchworks: [aShelf(box(1900, 0, 2200, 1700))],
      })
      return planFindings(plan).find(({ rule }) => rule === 'aisle')?.measured ?? null
    }
    fc.assert(
      fc.property(fc.integer({ min: 1750, max: 2400 }), fc.integer({ min: 0, max: 40 }), (wallY, nearer) => {
        const before = pinched(wallY)
        const after = pinched(wallY - nearer)
        return before === null || (after !== null && after <= before + 0.2)
      }),
      { seed: SEED, numRuns: 25 },
    )
  })
})
