import { describe, expect, it } from 'vitest'
import { pathPoseAt } from '../../../src/core/geom/index.ts'
import { networkCreateDeriver } from '../../../src/core/network/index.ts'
import type { NetworkTurnout, PlacementProblem } from '../../../src/core/network/index.ts'
import type { Plan, Turnout } from '../../../src/core/plan/index.ts'
import { aCorner, aTrack, aTurnout, planWith } from '../../support/plans.ts'

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

  it('reaching into the easement: the straight that there is, and at its end less its own length it fits', () => {
    const plan = at(250)
    const line = networkCreateDeriver()(plan).tracks.get('track-1')?.alignment
    const { result } = placed(at(250))
    if (!line?.ok || result.ok || result.problem.kind !== 'hostNotStraight' || !result.geometry) throw new Error('expected hostNotStraight')
    const ts = line.corners[0]?.tsMm ?? 0
    expect(result.problem).toMatchObject({ straightFromMm: 0, straightToMm: ts })
    const last = ts - result.geometry.extent.toMm
    expect(good(at(last)).pose.x).toBeCloseTo(last, 9)
    expect(problemOf(at(last + 0.001)).kind).toBe('hostNotStraight')
  })

  it('with its points in the curve there is no straight to tell of', () => {
    expect(problemOf(at(1500))).toEqual({ kind: 'hostNotStraight', straightFromMm: 1500, straightToMm: 1500 })
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

  it('the straight told across station zero counts on past it', () => {
    const problem = problemOf(at(1050))
    // From the curve behind the fourth corner, below zero, to the curve before the first: 2000 - 900 either way.
    expect(problem).toMatchObject({ kind: 'hostNotStraight' })
    if (problem.kind !== 'hostNotStraight') return
    expect(problem.straightFromMm).toBeCloseTo(-1100, 6)
    expect(problem.straightToMm).toBeCloseTo(1100, 6)
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
