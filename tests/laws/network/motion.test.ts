import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { angleBetween, poseCompose, poseToPlan } from '../../../src/core/geom/index.ts'
import type { Point, Pose } from '../../../src/core/geom/index.ts'
import { pipelineCreate } from '../../../src/core/pipeline/index.ts'
import type { Plan, Track } from '../../../src/core/plan/index.ts'
import { aCorner, aTrack, aTurnout, planWith } from '../../support/plans.ts'

/** A main with turnouts of both hands and facings, a spur, and a track that arrives at a leg and passes a turnout on. */
const plan = planWith({
  tracks: [
    aTrack({ corners: [aCorner({ x: 2600 })], end: { kind: 'free', x: 3700, y: 1300 } }),
    aTrack({ id: 'track-2', start: { kind: 'leg', turnout: 'turnout-1', leg: 'diverging' }, end: { kind: 'free', x: 1900, y: 200 } }),
    aTrack({ id: 'track-3', start: { kind: 'free', x: 3300, y: -250 }, end: { kind: 'leg', turnout: 'turnout-2', leg: 'diverging' } }),
    aTrack({ id: 'track-4', start: { kind: 'leg', turnout: 'turnout-3', leg: 'diverging' }, end: { kind: 'free', x: 3300, y: -150 } }),
  ],
  turnouts: [
    aTurnout({ stationMm: 300 }),
    aTurnout({ id: 'turnout-2', stationMm: 900, hand: 'right' }),
    aTurnout({ id: 'turnout-3', track: 'track-3', stationMm: 1600, facing: 'falling' }),
  ],
})

function planMapped(map: (p: Point) => Point, mirror: boolean): Plan {
  const end = <E extends Track['start'] | Track['end']>(at: E): E => (at.kind === 'free' ? { ...at, ...map(at) } : at)
  const tracks = Object.values(plan.tracks).map((track) => ({
    ...track,
    start: end(track.start),
    corners: track.corners.map((corner) => ({ ...corner, ...map(corner) })),
    end: end(track.end),
  }))
  const turnouts = Object.values(plan.turnouts).map((turnout) => {
    const other = turnout.hand === 'left' ? ('right' as const) : ('left' as const)
    return { ...turnout, hand: mirror ? other : turnout.hand }
  })
  return planWith({ tracks, turnouts })
}

/** Plans reach 4 m; rounding of that through a solver and a rotation stays a thousand times under this, mm. */
const toleranceMm = 1e-6

function expectMapped(moved: Plan, mapPose: (pose: Pose) => Pose): void {
  const [here, there] = [pipelineCreate().derive(plan), pipelineCreate().derive(moved)]
  for (const [id, { result }] of here.network.turnouts) {
    const other = there.network.turnouts.get(id)?.result
    if (!result.ok || !other?.ok) throw new Error(`${id} not set`)
    for (const which of ['pose', 'leg'] as const) {
      const wanted = mapPose(result[which])
      expect(Math.hypot(other[which].x - wanted.x, other[which].y - wanted.y)).toBeLessThan(toleranceMm)
      expect(Math.abs(angleBetween(other[which].headingRad, wanted.headingRad))).toBeLessThan(1e-9)
    }
  }
  for (const [id, { rails, ties }] of here.trackwork.tracks) {
    const other = there.trackwork.tracks.get(id)
    expect(ties.length, id).toBeGreaterThan(10)
    expect(other?.rails).toHaveLength(rails.length)
    expect(other?.ties).toHaveLength(ties.length)
    for (const [i, tie] of ties.entries()) {
      const wanted = mapPose({ ...tie.centre, headingRad: 0 })
      const centre = other?.ties[i]?.centre
      expect(Math.hypot((centre?.x ?? Infinity) - wanted.x, (centre?.y ?? Infinity) - wanted.y)).toBeLessThan(toleranceMm)
    }
  }
}

describe('the whole railway', () => {
  it('moved and turned: every turnout, leg and tie moves with it', () => {
    const frame = fc.record({
      x: fc.double({ min: -3000, max: 3000, noNaN: true }),
      y: fc.double({ min: -3000, max: 3000, noNaN: true }),
      headingRad: fc.double({ min: -Math.PI, max: Math.PI, noNaN: true }),
    })
    fc.assert(
      fc.property(frame, (to) => {
        expectMapped(
          planMapped((p) => poseToPlan(to, p), false),
          (pose) => poseCompose(to, pose),
        )
      }),
      { seed: 20261109, numRuns: 25 },
    )
  })

  it('mirrored, with every turnout of the other hand: everything is mirrored', () => {
    expectMapped(
      planMapped(({ x, y }) => ({ x, y: -y }), true),
      ({ x, y, headingRad }) => ({ x, y: -y, headingRad: -headingRad }),
    )
  })
})
