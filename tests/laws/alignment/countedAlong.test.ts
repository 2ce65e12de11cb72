import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { trackExtend, trackMerge, trackOrigin, trackReverse, trackSplit, trackTrim } from '../../../src/core/alignment/index.ts'
import type { TrackInPlan, TrackOperationResult } from '../../../src/core/alignment/index.ts'
import { pathPoseAt, poseOffset } from '../../../src/core/geom/index.ts'
import type { Point } from '../../../src/core/geom/index.ts'
import { networkCreateDeriver } from '../../../src/core/network/index.ts'
import type { Plan, Track } from '../../../src/core/plan/index.ts'
import { aBend, aCrossing, aLoop, aTrack, aTurnout, planAfter, planWith } from '../../support/plans.ts'

const SEED = 20261127
const bend = aBend({ id: 'track-1' })
const loop = aLoop(250)
/** Crosses the bend and the loop. */
const across = aTrack({ id: 'across', name: 'Across', start: { kind: 'free', x: 1300, y: -150 }, end: { kind: 'free', x: 2300, y: 150 } })

function on(plan: Plan, id: string): TrackInPlan {
  const found = networkCreateDeriver()(plan).tracks.get(id)
  if (found?.alignment.ok !== true) throw new Error(`track ${id}: ${JSON.stringify(found?.alignment)}`)
  return { plan, track: found.track, lineClass: found.lineClass, alignment: found.alignment }
}

/** One of each thing that is counted along track-1, all of it between two shares of its length. */
const things = (track: Track, from: number, to: number): fc.Arbitrary<Plan> => {
  const { lengthMm } = on(planWith({ tracks: [track] }), 'track-1').alignment.path
  const station = fc.double({ min: from * lengthMm, max: to * lengthMm - 60, noNaN: true })
  return fc
    .record({
      at: fc.array(station, { minLength: 7, maxLength: 7 }),
      rail: fc.constantFrom('left' as const, 'right' as const),
      facing: fc.constantFrom('rising' as const, 'falling' as const),
      slip: fc.constantFrom('none' as const, 'single-left' as const, 'single-right' as const, 'double' as const),
    })
    .map(({ at: [portal = 0, joint = 0, a = 0, b = 0, radius = 0, centres = 0, silence = 0], rail, facing, slip }) => {
      const reading = { name: 'Reading' }
      return planWith({
        tracks: [track, across],
        turnouts: [aTurnout({ stationMm: from * lengthMm + 200, facing })],
        crossings: [aCrossing({ other: 'across', stationMm: radius, otherStationMm: 520, slip })],
        portals: [{ id: 'p', name: 'P', track: 'track-1', stationMm: portal, lengthMm: 50, leftMm: 31, rightMm: 47, heightMm: 90 }],
        railJoints: [{ id: 'j', track: 'track-1', rail, stationMm: joint }],
        readings: [
          { ...reading, id: 'r1', of: { kind: 'along', track: 'track-1', fromMm: a, toMm: b } },
          { ...reading, id: 'r2', of: { kind: 'radius', track: 'track-1', stationMm: radius } },
          { ...reading, id: 'r3', of: { kind: 'centres', track: 'track-1', stationMm: centres, other: 'across' } },
        ],
        silences: [
          { id: 's', rule: 'minRadius', table: 'tracks', record: 'track-1', otherRecord: null, stationMm: silence, reason: 'It is old.' },
        ],
      })
    })
}

/** Where in the room everything lies that is counted along a track, by what it is. */
function places(plan: Plan): ReadonlyMap<string, readonly Point[]> {
  const { tracks } = networkCreateDeriver()(plan)
  const at = (track: string, stationMm: number, leftMm = 0): Point => {
    const alignment = tracks.get(track)?.alignment
    if (alignment?.ok !== true) throw new Error(`${track} has no line`)
    const { x, y } = poseOffset(pathPoseAt(alignment.path, stationMm), leftMm)
    return { x, y }
  }
  const found = new Map<string, readonly Point[]>()
  for (const { id, track, stationMm, facing } of Object.values(plan.turnouts))
    found.set(id, [at(track, stationMm), at(track, stationMm + (facing === 'rising' ? 20 : -20))])
  for (const { id, track, stationMm, slip } of Object.values(plan.crossings))
    found.set(id, [at(track, stationMm), at(track, stationMm, slip === 'single-left' ? 5 : slip === 'single-right' ? -5 : 0)])
  for (const { id, track, stationMm, lengthMm, leftMm, rightMm } of Object.values(plan.portals))
    found.set(
      id,
      [stationMm, stationMm + lengthMm].flatMap((mm) => [at(track, mm, leftMm), at(track, mm, -rightMm)]),
    )
  for (const { id, track, rail, stationMm } of Object.values(plan.railJoints))
    found.set(id, [at(track, stationMm, rail === 'left' ? 8 : -8)])
  for (const { id, of } of Object.values(plan.readings)) {
    if (of.kind === 'along') found.set(id, [at(of.track, of.fromMm), at(of.track, of.toMm)])
    else if (of.kind === 'radius' || of.kind === 'centres') found.set(id, [at(of.track, of.stationMm)])
  }
  for (const { id, record, stationMm } of Object.values(plan.silences)) found.set(id, [at(record, stationMm ?? 0)])
  return found
}

function after(plan: Plan, result: TrackOperationResult): Plan {
  if (!result.ok) throw new Error(JSON.stringify(result.problem))
  return planAfter(plan, result.command)
}

/** Each place is one of the other plan's, whichever of the ends it is counted from; 1e-6 mm: what tracks keep through edits. */
function expectSamePlaces(before: Plan, behind: Plan): void {
  const own = places(before)
  const other = places(behind)
  expect([...other.keys()]).toEqual([...own.keys()])
  for (const [id, points] of own) {
    const there = other.get(id) ?? []
    expect(there).toHaveLength(points.length)
    for (const { x, y } of points)
      expect(Math.min(...there.map((place) => Math.hypot(place.x - x, place.y - y))), `${id} lies elsewhere`).toBeLessThan(1e-6)
  }
}

/** The whole plan but for the rounding of stations. */
function expectSamePlan(one: Plan, other: Plan): void {
  const rounded = (plan: Plan): unknown =>
    JSON.parse(JSON.stringify(plan, (_key, value: unknown) => (typeof value === 'number' ? Math.round(value * 1e6) / 1e6 : value)))
  expect(rounded(other)).toEqual(rounded(one))
}

describe('what is counted along a track lies where it lay', () => {
  test.each([
    ['a track', bend],
    ['a loop', loop],
  ])('when %s is reversed; twice reversed it is the same plan', (_what, track) => {
    fc.assert(
      fc.property(things(track, 0, 1), (plan) => {
        const turned = after(plan, trackReverse(on(plan, 'track-1')))
        expectSamePlaces(plan, turned)
        expectSamePlan(plan, after(turned, trackReverse(on(turned, 'track-1'))))
      }),
      { seed: SEED, numRuns: 40 },
    )
  })

  test('when the track is cut in two, and merged again with either end first', () => {
    fc.assert(
      fc.property(fc.oneof(things(bend, 0, 0.1), things(bend, 0.2, 1)), fc.boolean(), fc.boolean(), (plan, isFirst, isTurned) => {
        const whole = on(plan, 'track-1')
        const parts = after(plan, trackSplit(whole, 0.15 * whole.alignment.path.lengthMm, []))
        expectSamePlaces(plan, parts)
        const [second = ''] = Object.keys(parts.tracks).filter((id) => id !== 'track-1' && id !== 'across')
        const met = isTurned ? after(parts, trackReverse(on(parts, second))) : parts
        const one = { on: on(met, 'track-1'), end: 'end' as const }
        const other = { on: on(met, second), end: isTurned ? ('end' as const) : ('start' as const) }
        expectSamePlaces(plan, after(met, isFirst ? trackMerge(one, other) : trackMerge(other, one)))
      }),
      { seed: SEED, numRuns: 40 },
    )
  })

  test('when the track is made longer in front, and trimmed there again', () => {
    fc.assert(
      fc.property(things(bend, 0, 1), (plan) => {
        const longer = after(plan, trackExtend(on(plan, 'track-1'), 'start', 250))
        expectSamePlaces(plan, longer)
        expectSamePlan(plan, after(longer, trackTrim(on(longer, 'track-1'), 250, 'behind', [])))
      }),
      { seed: SEED, numRuns: 30 },
    )
  })

  test('when the stations of a loop begin elsewhere', () => {
    fc.assert(
      fc.property(things(loop, 0.2, 1), (plan) => {
        expectSamePlaces(plan, after(plan, trackOrigin(on(plan, 'track-1'), 300)))
      }),
      { seed: SEED, numRuns: 30 },
    )
  })
})
