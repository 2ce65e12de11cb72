import { describe, expect, it } from 'vitest'
import { pathPoseAt, poseToPlan } from '../../../src/core/geom/index.ts'
import { networkCreateDeriver } from '../../../src/core/network/index.ts'
import type { NetworkTurnout, PlacementProblem } from '../../../src/core/network/index.ts'
import type { Plan, Turnout } from '../../../src/core/plan/index.ts'
import { aCorner, aTrack, aTurnout, planAfter, planWith } from '../../support/plans.ts'

const lengthMm = 2000

function placed(plan: Plan, id = 'turnout-1'): NetworkTurnout {
  const found = networkCreateDeriver()(plan).turnouts.get(id)
  if (!found) throw new Error(`no ${id}`)
  return found
}

function good(plan: Plan): Extract<NetworkTurnout['result'], { ok: true }> {
  const { result } = placed(plan)
  if (!result.ok) throw new Error(JSON.stringify(result.problem))
  return result
}

function problemOf(plan: Plan): PlacementProblem {
  const { result } = placed(plan)
  if (result.ok) throw new Error('expected a problem')
  return result.problem
}

const onStraight = (change: Partial<Turnout> = {}): Plan => planWith({ tracks: [aTrack()], turnouts: [aTurnout(change)] })

describe('a turnout on a straight', () => {
  it('has its points at its station and its leg ahead, left for a left-hand one', () => {
    const { pose, leg, geometry } = good(onStraight())
    expect(pose).toEqual({ x: 500, y: 0, headingRad: 0 })
    expect(leg.x).toBeCloseTo(500 + geometry.leg.x, 9)
    expect(leg.y).toBeCloseTo(geometry.leg.y, 9)
    expect(leg.y).toBeGreaterThan(0)
    expect(leg.headingRad).toBeCloseTo(geometry.frogAngleRad, 12)
  })

  it('facing falling stations it is seen from the other end: half a turn about its points', () => {
    const rising = good(onStraight({ stationMm: 1000 }))
    const falling = good(onStraight({ stationMm: 1000, facing: 'falling' }))
    expect(falling.pose.x).toBe(1000)
    expect(Math.cos(falling.pose.headingRad)).toBe(-1)
    expect(falling.leg.x - 1000).toBeCloseTo(1000 - rising.leg.x, 9)
    expect(falling.leg.y).toBeCloseTo(-rising.leg.y, 9)
  })

  it('a right-hand one mirrors the left-hand one', () => {
    const [left, right] = [good(onStraight()), good(onStraight({ hand: 'right' }))]
    expect(right.leg.x).toBeCloseTo(left.leg.x, 12)
    expect(right.leg.y).toBeCloseTo(-left.leg.y, 12)
  })

  it('lies behind a curve as well, in the heading of its straight', () => {
    const track = aTrack({ corners: [aCorner({ x: 1500, y: 0 })], end: { kind: 'free', x: 1500, y: 3000 } })
    const network = networkCreateDeriver()(planWith({ tracks: [track], turnouts: [aTurnout({ stationMm: 2600 })] }))
    const line = network.tracks.get('track-1')?.alignment
    const result = network.turnouts.get('turnout-1')?.result
    if (!line?.ok || !result?.ok) throw new Error('not solved')
    expect(result.pose.headingRad).toBeCloseTo(Math.PI / 2, 9)
    const { x, y } = pathPoseAt(line.path, 2600)
    expect(result.pose).toMatchObject({ x, y })
  })
})

describe('off the end', () => {
  it('before the start: by how much, and that much on it fits', () => {
    const problem = problemOf(onStraight({ stationMm: 1 }))
    if (problem.kind !== 'runsOff') throw new Error(problem.kind)
    expect(problem.end).toBe('start')
    expect(problemOf(onStraight({ stationMm: 1 + problem.overMm * 0.999 })).kind).toBe('runsOff')
    expect(good(onStraight({ stationMm: 1 + problem.overMm })).pose.x).toBeCloseTo(1 + problem.overMm, 9)
  })

  it.each(['rising', 'falling'] as const)('beyond the end, facing %s: by how much, and that much back it fits', (facing) => {
    const problem = problemOf(onStraight({ stationMm: 1995, facing }))
    if (problem.kind !== 'runsOff') throw new Error(problem.kind)
    expect(problem.end).toBe('end')
    expect(problemOf(onStraight({ stationMm: 1995 - problem.overMm * 0.999, facing })).kind).toBe('runsOff')
    expect(good(onStraight({ stationMm: 1995 - problem.overMm, facing })).pose.x).toBeCloseTo(1995 - problem.overMm, 9)
  })

  it('points that are not on the track at all: still drawn nowhere, still told by how much', () => {
    const { result } = placed(onStraight({ stationMm: lengthMm + 500 }))
    if (result.ok) throw new Error('expected a problem')
    expect(result.pose).toBeNull()
    expect(result.geometry).not.toBeNull()
    expect(result.problem).toMatchObject({ kind: 'runsOff', end: 'end' })
    expect(problemOf(onStraight({ stationMm: -5 }))).toMatchObject({ kind: 'runsOff', end: 'start' })
  })
})

describe('on a curve', () => {
  const curved = aTrack({ corners: [aCorner({ x: 1500, y: 0 })], end: { kind: 'free', x: 1500, y: 3000 } })
  const at = (stationMm: number): Plan => planWith({ tracks: [curved], turnouts: [aTurnout({ stationMm })] })

  it('reaching into the easement it bends with its host; a station earlier it is the straight one', () => {
    const line = networkCreateDeriver()(at(250)).tracks.get('track-1')?.alignment
    if (!line?.ok) throw new Error('line not solved')
    const ts = line.corners[0]?.tsMm ?? 0
    const straight = good(onStraight()).geometry
    const last = ts - straight.extent.toMm
    expect(good(at(last)).geometry).toEqual(straight)
    const bent = good(at(last + 0.001)).geometry
    expect(bent.request.host).not.toBeNull()
    // A micrometre of easement bends nothing that could be measured.
    expect(Math.abs(bent.leadMm - straight.leadMm)).toBeLessThan(1e-6)
  })

  it.each(['rising', 'falling'] as const)('facing %s its straight route lies on the curve of its host', (facing) => {
    const plan = planWith({ tracks: [curved], turnouts: [aTurnout({ stationMm: 1700, facing })] })
    const line = networkCreateDeriver()(plan).tracks.get('track-1')?.alignment
    const { pose, geometry } = good(plan)
    if (!line?.ok) throw new Error('line not solved')
    const route = geometry.routes.find(({ name }) => name === 'straight')?.centre
    if (!route) throw new Error('no straight route')
    for (const along of [0, 0.3, 0.7, 1].map((part) => part * route.lengthMm)) {
      const on = poseToPlan(pose, pathPoseAt(route, along))
      const there = pathPoseAt(line.path, facing === 'rising' ? 1700 + along : 1700 - along)
      expect(Math.hypot(on.x - there.x, on.y - there.y), `${along} mm behind PS`).toBeLessThan(1e-6)
    }
  })

  it('is solved again only when the host bends otherwise under it', () => {
    const derive = networkCreateDeriver()
    const geometryIn = (plan: Plan): unknown => {
      const result = derive(plan).turnouts.get('turnout-1')?.result
      return result?.ok === true ? result.geometry : null
    }
    const plan = at(1500)
    const first = geometryIn(plan)
    expect(first).not.toBeNull()
    const longer = planAfter(plan, { kind: 'track.setEnd', id: 'track-1', end: { kind: 'free', x: 1500, y: 3500 } })
    expect(geometryIn(longer)).toBe(first)
    const sharper = planAfter(plan, { kind: 'corner.set', track: 'track-1', corner: 'pi-1', change: { radius: 800 } })
    expect(geometryIn(sharper)).not.toBe(first)
  })
})

describe('a wye', () => {
  const wye = (stationMm: number, track = aTrack()): Plan =>
    planWith({ tracks: [track], turnouts: [aTurnout({ kind: { kind: 'wye', share: 0.5 }, stationMm })] })

  it('stands at the end of its track and has a leg to either side', () => {
    const { legs, pose } = good(wye(lengthMm))
    expect(pose).toMatchObject({ x: lengthMm, y: 0 })
    expect(legs.map(({ leg }) => leg).toSorted()).toEqual(['diverging', 'other'])
    const [left, right] = legs.toSorted((a, b) => b.pose.y - a.pose.y)
    expect(left?.pose.y).toBeCloseTo(-(right?.pose.y ?? 0), 9)
    expect(left?.pose.headingRad).toBeGreaterThan(0)
  })

  it('off the end is told by how much, on a loop that it has no end', () => {
    expect(problemOf(wye(lengthMm - 40))).toEqual({ kind: 'wyeOffEnd', end: 'end', endMm: lengthMm, offMm: 40 })
    const corners = [0, 1, 2, 3].map((i) =>
      aCorner({ id: `pi-${i + 1}`, x: i === 0 || i === 3 ? 0 : 4000, y: i < 2 ? 0 : 4000, radius: 900, easementIn: 0, easementOut: 0 }),
    )
    expect(problemOf(wye(900, aTrack({ corners, end: { kind: 'closed' } })))).toEqual({ kind: 'wyeEndTaken', end: 'end' })
  })
})

describe('on a loop', () => {
  const square = [0, 1, 2, 3].map((i) =>
    aCorner({ id: `pi-${i + 1}`, x: i === 0 || i === 3 ? 0 : 4000, y: i < 2 ? 0 : 4000, radius: 900, easementIn: 0, easementOut: 0 }),
  )
  const loop = aTrack({ start: { kind: 'free', x: 0, y: 2000 }, corners: square, end: { kind: 'closed' } })
  const at = (stationMm: number, facing: 'rising' | 'falling' = 'rising'): Plan =>
    planWith({ tracks: [loop], turnouts: [aTurnout({ stationMm, facing })] })

  it('station zero lies on a straight: a turnout may lie across it, whichever side its points are', () => {
    const whole = networkCreateDeriver()(at(0)).tracks.get('track-1')?.alignment
    if (!whole?.ok) throw new Error('loop not solved')
    for (const facing of ['rising', 'falling'] as const) {
      for (const station of [0, 2, 100, whole.path.lengthMm - 2, whole.path.lengthMm - 100]) {
        const { pose } = good(at(station, facing))
        expect(pose.x, `station ${station}`).toBeCloseTo(0, 9)
      }
    }
  })
})

describe('hosts that do not carry it', () => {
  it('none at all', () => {
    expect(problemOf(onStraight({ track: 'track-9' }))).toEqual({ kind: 'hostMissing' })
    expect(problemOf(onStraight({ track: 'constructor' }))).toEqual({ kind: 'hostMissing' })
  })

  it('one without a line', () => {
    const broken = aTrack({ corners: [aCorner({ x: 0, y: 0 })] })
    expect(problemOf(planWith({ tracks: [broken], turnouts: [aTurnout()] }))).toEqual({ kind: 'hostUnsolved' })
  })

  it('a turnout that cannot be built passes its own problem on', () => {
    const problem = problemOf(onStraight({ frog: 1 }))
    expect(problem).toMatchObject({ kind: 'geometry', problem: { kind: 'frogOutOfRange', frog: 1 } })
  })
})
