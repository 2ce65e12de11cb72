import { isDeepStrictEqual } from 'node:util'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { checksCreateRunner, findingsOf } from '../../../src/core/checks/index.ts'
import type { ChecksInput, Finding } from '../../../src/core/checks/index.ts'
import { networkCreateDeriver } from '../../../src/core/network/index.ts'
import { dataFreeze } from '../../../src/core/plan/index.ts'
import type { LineClass, Plan, Railway, Track, Turnout, Vehicle } from '../../../src/core/plan/index.ts'
import { planArbitrary } from '../../support/planArbitraries.ts'
import { aBenchwork, aCorner, aTrack, aTurnout, planWith } from '../../support/plans.ts'

const SEED = 20261127

/** A main round a bend with two turnouts and their spurs, a track beside it, and two tables that meet. */
const basePlan = (): Plan =>
  planWith({
    railway: { edgeMarginMm: 35 },
    benchworks: [
      aBenchwork({ outline: box(-100, -300, 2400, 500) }),
      aBenchwork({ id: 'benchwork-2', outline: box(2400, -300, 4000, 1500) }),
    ],
    tracks: [
      aTrack({ corners: [aCorner({ x: 2800 })], end: { kind: 'free', x: 3700, y: 1300 } }),
      aTrack({
        id: 'track-2',
        lineClass: 'yard',
        start: { kind: 'leg', turnout: 'turnout-1', leg: 'diverging' },
        end: { kind: 'free', x: 1900, y: 200 },
      }),
      aTrack({
        id: 'track-3',
        lineClass: 'branch',
        start: { kind: 'free', x: 0, y: 60 },
        corners: [aCorner({ x: 2700, y: 60 })],
        end: { kind: 'free', x: 3600, y: 1300 },
      }),
    ],
    turnouts: [aTurnout({ stationMm: 300 }), aTurnout({ id: 'turnout-2', stationMm: 900, hand: 'right' })],
  })

function box(minX: number, minY: number, maxX: number, maxY: number): { x: number; y: number }[] {
  return [
    { x: minX, y: minY },
    { x: maxX, y: minY },
    { x: maxX, y: maxY },
    { x: minX, y: maxY },
  ]
}

type Edit = (plan: Plan) => Plan

const trackEdit =
  (id: string, change: (track: Track) => Partial<Track>): Edit =>
  (plan) => {
    const track = plan.tracks[id]
    return track === undefined ? plan : { ...plan, tracks: { ...plan.tracks, [id]: { ...track, ...change(track) } } }
  }
const turnoutEdit =
  (id: string, change: Partial<Turnout>): Edit =>
  (plan) => {
    const turnout = plan.turnouts[id]
    return turnout === undefined ? plan : { ...plan, turnouts: { ...plan.turnouts, [id]: { ...turnout, ...change } } }
  }
const classEdit =
  (id: string, change: Partial<LineClass>): Edit =>
  (plan) => {
    const lineClass = plan.lineClasses[id]
    return lineClass === undefined ? plan : { ...plan, lineClasses: { ...plan.lineClasses, [id]: { ...lineClass, ...change } } }
  }
const roadbedEdit =
  (id: string, topWidthMm: number): Edit =>
  (plan) => {
    const roadbed = plan.lineClasses[id]?.roadbed
    return roadbed ? classEdit(id, { roadbed: { ...roadbed, topWidthMm } })(plan) : plan
  }
const without = <R>(table: { readonly [id: string]: R }, gone: string): { readonly [id: string]: R } =>
  Object.fromEntries(Object.entries(table).filter(([id]) => id !== gone))

const x = fc.integer({ min: -200, max: 4200 })
const y = fc.integer({ min: -400, max: 1500 })
const trackId = fc.constantFrom('track-1', 'track-2', 'track-3')
const turnoutId = fc.constantFrom('turnout-1', 'turnout-2')

/** The second table as a bow tie. */
function outlineCrossed(px: number, py: number): Edit {
  const [a, b, c, d] = box(px, py, px + 500, py + 300)
  const outline = [a, c, b, d].filter((point) => point !== undefined)
  return (plan) => ({ ...plan, benchworks: { ...plan.benchworks, 'benchwork-2': aBenchwork({ id: 'benchwork-2', outline }) } })
}

/** Two bare bends of 30 degrees, the second back or on, with little straight or none between. */
function twoBends(apart: number, isReverse: boolean): Pick<Track, 'corners' | 'end'> {
  const at = { x: 2000 + apart * Math.cos(Math.PI / 6), y: apart / 2 }
  const on = isReverse ? { x: 1000, y: 0 } : { x: 500, y: 500 * Math.sqrt(3) }
  const bare = { radius: 700, easementIn: 0, easementOut: 0 }
  return {
    corners: [aCorner({ x: 2000, ...bare }), aCorner({ id: 'pi-2', ...at, ...bare })],
    end: { kind: 'free', x: at.x + on.x, y: at.y + on.y },
  }
}

const edit: fc.Arbitrary<Edit> = fc.oneof(
  fc
    .tuple(trackId, x, y)
    .map(([id, px, py]) =>
      trackEdit(id, ({ corners }) => ({ corners: corners.map((corner, i) => (i === 0 ? { ...corner, x: px, y: py } : corner)) })),
    ),
  fc.tuple(trackId, x, y).map(([id, px, py]) => trackEdit(id, () => ({ end: { kind: 'free', x: px, y: py } }))),
  fc
    .tuple(trackId, x, y)
    .map(([id, px, py]) =>
      trackEdit(id, ({ corners }) => ({ corners: [...corners, aCorner({ id: `pi-${corners.length + 1}`, x: px, y: py, radius: 500 })] })),
    ),
  trackId.map((id) => trackEdit(id, ({ corners }) => ({ corners: corners.slice(1) }))),
  fc
    .tuple(fc.constantFrom('track-1', 'track-3'), fc.integer({ min: 400, max: 900 }), fc.boolean())
    .map(([id, apart, isReverse]) => trackEdit(id, () => twoBends(apart, isReverse))),
  fc.tuple(trackId, fc.constantFrom('main', 'branch', 'yard')).map(([id, lineClass]) => trackEdit(id, () => ({ lineClass }))),
  turnoutId.map((turnout) => trackEdit('track-2', () => ({ start: { kind: 'leg', turnout, leg: 'diverging' } }))),
  fc.tuple(turnoutId, fc.integer({ min: 0, max: 2500 })).map(([id, stationMm]) => turnoutEdit(id, { stationMm })),
  fc.tuple(turnoutId, fc.constantFrom(4, 5, 8)).map(([id, frog]) => turnoutEdit(id, { frog })),
  fc.tuple(turnoutId, fc.constantFrom('track-1', 'track-3')).map(([id, track]) => turnoutEdit(id, { track })),
  fc.constantFrom([], ['car-40ft-box'], ['car-40ft-box', 'car-85ft-passenger']).map((cars) => classEdit('main', { cars })),
  fc.integer({ min: 300, max: 1000 }).map((minRadiusMm) => classEdit('main', { minRadiusMm })),
  fc.integer({ min: 20, max: 60 }).map((wide) => (plan: Plan) => {
    const car = plan.vehicles['car-85ft-passenger']
    return car === undefined ? plan : { ...plan, vehicles: { ...plan.vehicles, [car.id]: carWide(car, wide) } }
  }),
  fc
    .constantFrom<Partial<Railway>>({ edgeMarginMm: 10 }, { edgeMarginMm: 80 }, { runningClearanceMm: 20 })
    .map((change) => (plan: Plan) => ({ ...plan, railway: { ...plan.railway, ...change } })),
  fc.tuple(x, y).map(([px, py]) => (plan: Plan) => ({
    ...plan,
    benchworks: {
      ...plan.benchworks,
      'benchwork-2': aBenchwork({ id: 'benchwork-2', outline: [...box(2400, -300, 4000, 1500).slice(0, 3), { x: px, y: py }] }),
    },
  })),
  fc.constant((plan: Plan) => ({ ...plan, benchworks: {} })),
  fc.tuple(x, y).map(([px, py]) => outlineCrossed(px, py)),
  fc.tuple(x, y).map(([px, py]) => (plan: Plan) => ({
    ...plan,
    walls: {
      'wall-1': {
        id: 'wall-1',
        name: 'Wall',
        points: [
          { x: px, y: py },
          { x: 3000, y: -300 },
          { x: 4200, y: 1500 },
        ],
        thicknessMm: 80,
        isClosed: false,
      },
    },
  })),
  fc.tuple(x, y).map(([px, py]) => (plan: Plan) => ({
    ...plan,
    obstacles: { 'obstacle-1': { id: 'obstacle-1', name: 'Post', undersideMm: 0, outline: box(px, py, px + 60, py + 40) } },
  })),
  fc.tuple(trackId, fc.integer({ min: 0, max: 2000 })).map(([track, stationMm]) => (plan: Plan) => ({
    ...plan,
    portals: {
      'portal-1': { id: 'portal-1', name: 'Tunnel', track, stationMm, lengthMm: 300, leftMm: 20, rightMm: 30, heightMm: 80 },
    },
  })),
  fc.constant((plan: Plan) => ({
    ...plan,
    tracks: without(plan.tracks, 'track-3'),
    turnouts: Object.fromEntries(Object.entries(plan.turnouts).filter(([, { track }]) => track !== 'track-3')),
  })),
)

/** The first step at which a remembering runner says something else than a fresh one; null: never. */
function disagreement(check: (input: ChecksInput) => readonly Finding[], edits: readonly Edit[]): string | null {
  const networkOf = networkCreateDeriver()
  let plan = basePlan()
  check({ plan, network: networkOf(plan) })
  for (const [i, one] of edits.entries()) {
    plan = dataFreeze(one(plan))
    const kept = check({ plan, network: networkOf(plan) })
    const fresh = findingsOf({ plan, network: networkCreateDeriver()(plan) })
    if (!isDeepStrictEqual(kept, fresh))
      return `step ${i}: ${JSON.stringify(kept.map(({ id }) => id))} against ${JSON.stringify(fresh.map(({ id }) => id))}`
  }
  return null
}

describe('checking step by step', () => {
  test('finds what checking from scratch finds, over random edits', () => {
    const seen = new Set<string>()
    fc.assert(
      fc.property(fc.array(edit, { minLength: 3, maxLength: 8 }), (edits) => {
        const runner = checksCreateRunner()
        const noting = (input: ChecksInput): readonly Finding[] => {
          const findings = runner(input)
          for (const { rule } of findings) seen.add(rule)
          return findings
        }
        expect(disagreement(noting, edits)).toBeNull()
      }),
      { seed: SEED, numRuns: 16 },
    )
    // What edits at random seldom come to: two curves of one hand, an outline that crosses itself, wide roadbed.
    const runner = checksCreateRunner()
    const seldom: readonly Edit[] = [
      trackEdit('track-1', () => twoBends(500, false)),
      trackEdit('track-1', () => twoBends(500, true)),
      turnoutEdit('turnout-1', { frog: 4 }),
      outlineCrossed(2600, 0),
      roadbedEdit('main', 100),
      trackEdit('track-3', () => ({ corners: [], end: { kind: 'free', x: 3000, y: 70 } })),
      roadbedEdit('branch', 60),
    ]
    const noting = (input: ChecksInput): readonly Finding[] => {
      const findings = runner(input)
      for (const { rule } of findings) seen.add(rule)
      return findings
    }
    expect(disagreement(noting, seldom)).toBeNull()
    // The edits reach every rule, else the law would say little.
    expect([...seen]).toEqual(
      expect.arrayContaining([
        'alignment',
        'benchwork-edge',
        'bench-overlap',
        'benchwork-outline',
        'broken-back',
        'crossing-build',
        'easement-fit',
        'fixed-clearance',
        'minimum-frog',
        'minimum-radius',
        'reach',
        'reverse-curve',
        'roadbed-overlap',
        'track-clearance',
        'turnout-place',
      ]),
    )
  })

  test('would catch a runner that keeps findings by track alone', () => {
    const kept = new Map<string, readonly Finding[]>()
    const forgetful = ({ plan, network }: ChecksInput): readonly Finding[] => {
      const key = JSON.stringify(Object.values(plan.tracks))
      const before = kept.get(key)
      if (before !== undefined) return before
      const findings = findingsOf({ plan, network })
      kept.set(key, findings)
      return findings
    }
    expect(disagreement(forgetful, [classEdit('main', { minRadiusMm: 2000 })])).not.toBeNull()
  })
})

describe('findings of any plan', () => {
  const hasOnlyNumbers = (value: unknown): boolean => {
    if (typeof value === 'number') return Number.isFinite(value)
    return typeof value === 'object' && value !== null ? Object.values(value).every(hasOnlyNumbers) : true
  }

  test('come without throwing, with finite numbers and an id of their own', () => {
    fc.assert(
      fc.property(planArbitrary, (plan) => {
        const findings = findingsOf({ plan, network: networkCreateDeriver()(plan) })
        expect(findings.every((finding) => hasOnlyNumbers(finding))).toBe(true)
        expect(new Set(findings.map(({ id }) => id)).size).toBe(findings.length)
      }),
      { seed: SEED + 1, numRuns: 40 },
    )
  })
})

function carWide(car: Vehicle, widthMm: number): Vehicle {
  return { ...car, frames: car.frames.map((frame) => (frame.kind === 'car' ? { ...frame, widthMm } : frame)) }
}
