import { describe, expect, it } from 'vitest'
import {
  carsOnRoom,
  foulingPoints,
  standingCreate,
  standingFound,
  standingKeepCreate,
  standingLength,
} from '../../../src/core/clearance/index.ts'
import type { Standing } from '../../../src/core/clearance/index.ts'
import { pipelineCreate } from '../../../src/core/pipeline/index.ts'
import type { Plan } from '../../../src/core/plan/index.ts'
import { aCar, aCorner, aTrack, aTurnout, planWith } from '../../support/plans.ts'

// So short a car does not swing out where the two lines have parted: its band is as wide as it is.
const stub = aCar({ id: 'car-1', overCouplersMm: 25 }, { lengthMm: 20, widthMm: 36, truckCentresMm: 10, truckWheelbaseMm: 0 })
const halfMm = 18

function planOf(change: Parameters<typeof planWith>[0]): Plan {
  const plan = planWith({ vehicles: [stub], ...change })
  const lineClasses = Object.fromEntries(Object.entries(plan.lineClasses).map(([id, one]) => [id, { ...one, cars: ['car-1'] }]))
  return { ...plan, lineClasses }
}

const networkOf = (plan: Plan) => pipelineCreate().derive(plan).network
const standingOf = (plan: Plan, track: string): readonly Standing[] => standingCreate(networkOf(plan))(track)

const spur = aTrack({
  id: 'track-2',
  name: 'Spur',
  start: { kind: 'leg', turnout: 'turnout-1', leg: 'diverging' },
  end: { kind: 'free', x: 2000, y: 260 },
})

describe('room to stand', () => {
  it('is after an edit what it would be if nothing had been kept of before', () => {
    const keep = standingKeepCreate()
    const kept = (plan: Plan, track: string): readonly Standing[] => {
      const work = standingFound(networkOf(plan), track, keep)
      for (let step = work.next(); ; step = work.next()) if (step.done === true) return step.value
    }
    const start = planOf({ tracks: [aTrack(), spur], turnouts: [aTurnout()] })
    const moved = planOf({ tracks: [aTrack(), spur], turnouts: [aTurnout({ stationMm: 700 })] })
    const wide: Plan = { ...moved, railway: { ...moved.railway, runningClearanceMm: moved.railway.runningClearanceMm * 2 } }
    const longer = {
      ...stub,
      frames: [{ kind: 'car', lengthMm: 90, widthMm: 40, truckCentresMm: 60, truckWheelbaseMm: 20, taper: null }],
    } as const
    const other: Plan = { ...wide, vehicles: { 'car-1': longer } }
    for (const plan of [start, moved, wide, other, start])
      for (const track of ['track-1', 'track-2']) expect(kept(plan, track)).toEqual(standingOf(plan, track))
    expect(standingOf(moved, 'track-1')).not.toEqual(standingOf(start, 'track-1'))
    expect(standingOf(other, 'track-1')).not.toEqual(standingOf(wide, 'track-1'))
  })

  it('begins where two straight lines that part at a frog are apart by what the cars and the running clearance ask', () => {
    const plan = planOf({ tracks: [aTrack(), spur], turnouts: [aTurnout()] })
    const network = networkOf(plan)
    const placed = network.turnouts.get('turnout-1')
    if (placed?.result.ok !== true) throw new Error('the turnout was not placed')
    const { leg, geometry } = placed.result
    // The leg's line meets the host's at V; at s on the host the near corners of both bands are as far apart as is asked where
    // (s - V) sin F = clearance + w/2 (1 + cos F).
    const crossingMm = leg.x - leg.y / Math.tan(leg.headingRad)
    const { frogAngleRad } = geometry
    const asked = plan.railway.runningClearanceMm + halfMm * (1 + Math.cos(frogAngleRad))
    const expectedMm = crossingMm + asked / Math.sin(frogAngleRad)
    const [before, after, ...more] = standingOf(plan, 'track-1')
    expect(more).toEqual([])
    expect(before).toMatchObject({ fromMm: 0, from: { kind: 'end' }, to: { kind: 'track', record: 'track-2' } })
    expect(after).toMatchObject({ from: { kind: 'track', record: 'track-2' }, toMm: 2000, to: { kind: 'end' } })
    // Bands are looked at every 10 mm, and the first station that is free is told.
    const within = (overMm: number): boolean => overMm > -0.5 && overMm < 10.5
    expect(within((after?.fromMm ?? Number.NaN) - expectedMm)).toBe(true)
    // On the spur as far beyond V: both lines are alike.
    const [onSpur] = standingOf(plan, 'track-2')
    const fromLegMm = Math.hypot(leg.x - crossingMm, leg.y)
    expect(within((onSpur?.fromMm ?? Number.NaN) - (expectedMm - crossingMm - fromLegMm))).toBe(true)
  })

  it('ends at the points of a turnout whose leg leads nowhere yet, and begins behind its fouling point', () => {
    const plan = planOf({ tracks: [aTrack()], turnouts: [aTurnout()] })
    const placed = networkOf(plan).turnouts.get('turnout-1')
    if (placed?.result.ok !== true) throw new Error('the turnout was not placed')
    const { leadMm, foulingMm } = placed.result.geometry
    const bound = { kind: 'turnout', record: 'turnout-1' }
    expect(standingOf(plan, 'track-1')).toEqual([
      { track: 'track-1', fromMm: 0, toMm: 500, from: { kind: 'end' }, to: bound },
      { track: 'track-1', fromMm: 500 + leadMm + foulingMm, toMm: 2000, from: bound, to: { kind: 'end' } },
    ])
  })

  it('goes on over station zero of a loop, which is no end', () => {
    const corners = [
      aCorner({ id: 'a', x: 3000, y: 0, radius: 700, easementIn: 0, easementOut: 0 }),
      aCorner({ id: 'b', x: 3000, y: 2200, radius: 700, easementIn: 0, easementOut: 0 }),
      aCorner({ id: 'c', x: 0, y: 2200, radius: 700, easementIn: 0, easementOut: 0 }),
      aCorner({ id: 'd', x: 0, y: 0, radius: 700, easementIn: 0, easementOut: 0 }),
    ]
    const loop = aTrack({ start: { kind: 'free', x: 1500, y: 0 }, corners, end: { kind: 'closed' } })
    const plan = planOf({ tracks: [loop], turnouts: [aTurnout({ stationMm: 100 })] })
    const network = networkOf(plan)
    const lengthMm = network.tracks.get('track-1')?.alignment.ok === true ? pathLength(plan) : Number.NaN
    const [room, ...more] = standingCreate(network)('track-1')
    expect(more).toEqual([])
    expect(room?.toMm).toBeCloseTo(lengthMm + 100, 6)
    const points = foulingPoints(network, room === undefined ? [] : [room])
    expect(points.map(({ stationMm }) => stationMm)).toEqual([room?.fromMm, expect.closeTo(100, 6)])
    expect(points[1]).toMatchObject({ x: expect.closeTo(1600, 6), y: expect.closeTo(0, 6) })
  })

  it('holds as many cars as there is length for, a twentieth of slack counted', () => {
    expect(carsOnRoom(1049, 100)).toBe(9)
    expect(carsOnRoom(1050.001, 100)).toBe(10)
    expect(carsOnRoom(50, 100)).toBe(0)
  })

  it('runs on over an end that meets the end of another track, whichever way that one is numbered', () => {
    const first = aTrack({ end: { kind: 'free', x: 2000, y: 0 } })
    const on = aTrack({ id: 'track-2', name: 'On', start: { kind: 'free', x: 2000, y: 0 }, end: { kind: 'free', x: 3000, y: 0 } })
    const back = { ...on, start: on.end, end: on.start } as typeof on
    const alone = planOf({ tracks: [first] })
    const lengthMm = (standingOf(alone, 'track-1')[0]?.toMm ?? Number.NaN) + 1000
    for (const other of [on, back]) {
      const plan = planOf({ tracks: [first, other] })
      const [room, ...more] = standingOf(plan, 'track-1')
      expect(more).toEqual([])
      if (room === undefined) throw new Error('no room')
      expect(standingLength(room)).toBeCloseTo(lengthMm, 6)
      expect(room).toMatchObject({ to: { kind: 'end', record: 'track-2' }, onward: { afterMm: 1000 } })
      expect(foulingPoints(networkOf(plan), [room])).toEqual([])
    }
    // Apart by more than a joiner takes up it ends at its end, where the other one's cars stand in its way.
    const apart = planOf({ tracks: [first, { ...on, start: { kind: 'free', x: 2004, y: 0 } }] })
    expect(standingOf(apart, 'track-1').every(({ onward }) => onward === undefined)).toBe(true)
  })
})

function pathLength(plan: Plan): number {
  const alignment = networkOf(plan).tracks.get('track-1')?.alignment
  return alignment?.ok === true ? alignment.path.lengthMm : Number.NaN
}
