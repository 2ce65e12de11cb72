import fc from 'fast-check'
import { expect, test } from 'vitest'
import { checksCreateRunner, findingsOf } from '../../../src/core/checks/index.ts'
import type { ChecksInput, Finding } from '../../../src/core/checks/index.ts'
import { runsCreate } from '../../../src/core/checks/runs.ts'
import type { Runs } from '../../../src/core/checks/runs.ts'
import { networkCreateDeriver } from '../../../src/core/network/index.ts'
import { dataFreeze } from '../../../src/core/plan/index.ts'
import type { Id, Plan, Track } from '../../../src/core/plan/index.ts'
import { aCorner, aTrack, aTurnout, planWith } from '../../support/plans.ts'

const rows = 20
const lengthMm = 400
const apartMm = 120

const idOf = (row: number): Id => `track-${String(row).padStart(2, '0')}`

/** A short straight in its row. */
function straight(row: number): Track {
  const y = row * apartMm
  return aTrack({ id: idOf(row), start: { kind: 'free', x: 0, y }, end: { kind: 'free', x: lengthMm, y } })
}

/** Short straights beside each other, and far from them a line with two turnouts on which some may hang. */
const firstPlan = (): Plan =>
  planWith({
    tracks: [
      aTrack({ id: 'host', start: { kind: 'free', x: 5000, y: 0 }, end: { kind: 'free', x: 8000, y: 0 } }),
      ...Array.from({ length: rows }, (_, row) => straight(row)),
    ],
    turnouts: [aTurnout({ track: 'host' }), aTurnout({ id: 'turnout-2', track: 'host', stationMm: 1500, facing: 'falling' })],
  })

type Edit = (plan: Plan) => Plan

const withTracks = (plan: Plan, tracks: readonly Track[]): Plan => ({
  ...plan,
  tracks: { ...plan.tracks, ...Object.fromEntries(tracks.filter(({ id }) => id in plan.tracks).map((track) => [track.id, track])) },
})

const row = fc.integer({ min: 0, max: rows - 1 })
const ends = fc.constantFrom('start', 'end')

/** Laid on from where another ends: so far behind it, turned by so much. */
const laidOn: fc.Arbitrary<Edit> = fc
  .tuple(row, row, ends, fc.constantFrom(0, 0.4, 3, 4.9, 5.2, 9), fc.constantFrom(0, 0.03, -0.4), fc.boolean())
  .map(([one, other, at, gapMm, turnRad, isReversed]) => (plan) => {
    const there = plan.tracks[idOf(other)]?.[at]
    if (one === other || there?.kind !== 'free') return plan
    const way = at === 'end' ? 1 : -1
    const from = { kind: 'free', x: there.x + way * gapMm, y: there.y } as const
    const along = way * lengthMm
    const to = { kind: 'free', x: from.x + along * Math.cos(turnRad), y: from.y + along * Math.sin(turnRad) } as const
    const [start, end] = isReversed ? [to, from] : [from, to]
    return withTracks(plan, [aTrack({ id: idOf(one), start, end })])
  })

/** By a little, so that an end comes nearer to another or parts from it. */
const nudged: fc.Arbitrary<Edit> = fc
  .tuple(row, ends, fc.integer({ min: -12, max: 12 }), fc.integer({ min: -2, max: 2 }))
  .map(([one, at, dx, dy]) => (plan) => {
    const track = plan.tracks[idOf(one)]
    const end = track?.[at]
    return track === undefined || end?.kind !== 'free'
      ? plan
      : withTracks(plan, [{ ...track, [at]: { ...end, x: end.x + dx / 2, y: end.y + dy / 2 } }])
  })

const backInRow: fc.Arbitrary<Edit> = fc
  .array(row, { minLength: 1, maxLength: 5 })
  .map((which) => (plan) => withTracks(plan, which.map(straight)))

/** More at once than are held against all others one by one. */
const allMoved: fc.Arbitrary<Edit> = fc.integer({ min: -40, max: 40 }).map(
  (dx) => (plan) =>
    withTracks(
      plan,
      Object.values(plan.tracks).map((track) => ({
        ...track,
        start: track.start.kind === 'free' ? { ...track.start, x: track.start.x + dx } : track.start,
        end: track.end.kind === 'free' ? { ...track.end, x: track.end.x + dx } : track.end,
      })),
    ),
)

const gone: fc.Arbitrary<Edit> = row.map((one) => (plan) => ({
  ...plan,
  tracks: Object.fromEntries(Object.entries(plan.tracks).filter(([id]) => id !== idOf(one))),
}))

/** In its old place among the others, in which a plan has them by their ids. */
const come: fc.Arbitrary<Edit> = row.map((one) => (plan) => {
  const tracks = Object.values({ ...plan.tracks, [idOf(one)]: straight(one) }).toSorted((a, b) => (a.id < b.id ? -1 : 1))
  return { ...plan, tracks: Object.fromEntries(tracks.map((track) => [track.id, track])) }
})

const hung: fc.Arbitrary<Edit> = fc
  .tuple(row, fc.constantFrom({ turnout: 'turnout-1', x: 7600 }, { turnout: 'turnout-2', x: 5200 }))
  .map(([one, { turnout, x }]) => (plan) => {
    const start = { kind: 'leg', turnout, leg: 'diverging' } as const
    return withTracks(plan, [
      aTrack({ id: idOf(one), start, end: { kind: 'free', x: x + 10 * one, y: turnout === 'turnout-1' ? 300 : -300 } }),
    ])
  })

/** The line bends where the cars come from that run over the second turnout; its legs stay where they are. */
const hostBent: fc.Arbitrary<Edit> = fc.integer({ min: -4, max: 4 }).map((tenths) => (plan) => {
  const host = plan.tracks['host']
  const corners = tenths === 0 ? [] : [aCorner({ x: 6800, radius: 600, easementIn: 0, easementOut: 0 })]
  return host === undefined ? plan : withTracks(plan, [{ ...host, corners, end: { kind: 'free', x: 8000, y: 120 * tenths } }])
})

const turnoutMoved: fc.Arbitrary<Edit> = fc.integer({ min: 300, max: 700 }).map((stationMm) => (plan) => ({
  ...plan,
  turnouts: { ...plan.turnouts, 'turnout-1': aTurnout({ track: 'host', stationMm }) },
}))

const carWide: fc.Arbitrary<Edit> = fc.integer({ min: 30, max: 140 }).map((widthMm) => (plan) => ({
  ...plan,
  vehicles: Object.fromEntries(
    Object.entries(plan.vehicles).map(([id, car]) => [
      id,
      { ...car, frames: car.frames.map((frame) => (frame.kind === 'car' ? { ...frame, widthMm } : frame)) },
    ]),
  ),
}))

const portalSet: fc.Arbitrary<Edit> = fc.tuple(row, fc.constantFrom(12, 40)).map(([one, leftMm]) => (plan) => ({
  ...plan,
  portals: {
    'portal-1': { id: 'portal-1', name: 'Tunnel', track: idOf(one), stationMm: 100, lengthMm: 100, leftMm, rightMm: 40, heightMm: 80 },
  },
}))

const edit = fc.oneof(
  { weight: 8, arbitrary: laidOn },
  { weight: 8, arbitrary: nudged },
  { weight: 2, arbitrary: backInRow },
  { weight: 1, arbitrary: allMoved },
  { weight: 2, arbitrary: gone },
  { weight: 2, arbitrary: come },
  { weight: 3, arbitrary: hung },
  { weight: 2, arbitrary: hostBent },
  { weight: 1, arbitrary: turnoutMoved },
  { weight: 1, arbitrary: carWide },
  { weight: 1, arbitrary: portalSet },
)

/** A portal stands only on a track that is there. */
const settled = (plan: Plan): Plan =>
  dataFreeze({ ...plan, portals: Object.fromEntries(Object.entries(plan.portals).filter(([, { track }]) => track in plan.tracks)) })

/** The lines that cars run over, with what they come from, and the turnouts and legs that these hang on. */
const written = ({ tracks, bare }: Runs): string =>
  JSON.stringify([
    tracks.map(({ run, start, end, startLeg, endLeg }) => [run?.key, run?.whole(), start?.turnout, end?.turnout, startLeg, endLeg]),
    bare.map(({ key, whole }) => [key, whole()]),
  ])

test('tracks that come to meet, part, hang, come and go are checked as from scratch, bit for bit', () => {
  const seen = { met: 0, parted: 0, unlike: 0 }
  const joints = (found: readonly Finding[]): number => found.filter(({ rule }) => rule === 'line-joint').length
  fc.assert(
    fc.property(fc.array(edit, { minLength: 25, maxLength: 40, size: 'max' }), (edits) => {
      const networkOf = networkCreateDeriver()
      const check = checksCreateRunner()
      const runsOf = runsCreate()
      let plan = firstPlan()
      let before = check({ plan, network: networkOf(plan) })
      for (const one of edits) {
        plan = settled(one(plan))
        const input: ChecksInput = { plan, network: networkOf(plan) }
        const fresh: ChecksInput = { plan, network: networkCreateDeriver()(plan) }
        const kept = check(input)
        // A number that differs in its last bit is written otherwise.
        expect(JSON.stringify(kept)).toBe(JSON.stringify(findingsOf(fresh)))
        expect(written(runsOf(plan, input.network))).toBe(written(runsCreate()(plan, fresh.network)))
        if (joints(kept) > joints(before)) seen.met++
        if (joints(kept) < joints(before)) seen.parted++
        if (JSON.stringify(kept) !== JSON.stringify(before)) seen.unlike++
        before = kept
      }
    }),
    { seed: 20261206, numRuns: 8 },
  )
  expect(seen.met).toBeGreaterThan(8)
  expect(seen.parted).toBeGreaterThan(8)
  expect(seen.unlike).toBeGreaterThan(100)
})
