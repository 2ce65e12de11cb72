import { describe, expect, it } from 'vitest'
import { pathNearest, pathPoseAt, poseToLocal } from '../../../src/core/geom/index.ts'
import { networkCreateDeriver } from '../../../src/core/network/index.ts'
import type { Network } from '../../../src/core/network/index.ts'
import type { LineClass, Plan } from '../../../src/core/plan/index.ts'
import { tieCorners, trackworkCreateDeriver } from '../../../src/core/track/index.ts'
import type { Trackwork } from '../../../src/core/track/index.ts'
import { aCorner, aTrack, aTurnout, planWith } from '../../support/plans.ts'

function laid(plan: Plan): { readonly network: Network; readonly work: Trackwork } {
  const network = networkCreateDeriver()(plan)
  return { network, work: trackworkCreateDeriver()(network) }
}

function plainOf(plan: Plan, id = 'track-1') {
  const plain = laid(plan).work.tracks.get(id)
  if (!plain) throw new Error(`no ${id}`)
  return plain
}

function turnoutOf(plan: Plan, id = 'turnout-1') {
  const { network, work } = laid(plan)
  const [set, turnout] = [network.turnouts.get(id)?.result, work.turnouts.get(id)]
  if (!set?.ok || !turnout) throw new Error(`${id} not set`)
  return { ...set, ...turnout }
}

const spacingOf = (plan: Plan): number => plan.lineClasses['main']?.tieSpacingMm ?? Number.NaN
const gapsOf = (stations: readonly number[]): number[] => stations.slice(1).map((station, i) => station - (stations[i] ?? 0))

describe('plain track alone', () => {
  const plan = planWith({ tracks: [aTrack()] })
  const spacing = spacingOf(plan)

  it('two rails over its whole length, heads outside the gauge', () => {
    const { gaugeMm } = plan.railway
    expect(plainOf(plan).rails).toMatchObject([
      { role: 'left', headSide: 1, gaugeLine: { offsetMm: gaugeMm / 2, fromMm: 0, toMm: 2000 } },
      { role: 'right', headSide: -1, gaugeLine: { offsetMm: -gaugeMm / 2, fromMm: 0, toMm: 2000 } },
    ])
  })

  it('ties evenly, as near to the class spacing as a whole number allows, half a spacing short of open ends', () => {
    const stations = plainOf(plan).ties.map(({ stationMm }) => stationMm)
    // 2000 / 5.689 = 351.6: 352 ties.
    expect(stations).toHaveLength(Math.round(2000 / spacing))
    const gaps = gapsOf(stations)
    expect(Math.max(...gaps) - Math.min(...gaps)).toBeLessThan(1e-9)
    expect(Math.abs((gaps[0] ?? 0) - spacing)).toBeLessThan(spacing / stations.length)
    expect(stations[0]).toBeCloseTo(2000 - (stations.at(-1) ?? 0), 9)
    expect(Math.abs((stations[0] ?? 0) - spacing / 2)).toBeLessThan(spacing / stations.length)
  })

  it('ties square to a curve, centred on it', () => {
    const curved = planWith({ tracks: [aTrack({ corners: [aCorner({ x: 1500, y: 0 })], end: { kind: 'free', x: 1500, y: 3000 } })] })
    const line = laid(curved).network.tracks.get('track-1')?.alignment
    if (!line?.ok) throw new Error('not solved')
    for (const tie of plainOf(curved).ties) {
      const pose = pathPoseAt(line.path, tie.stationMm)
      expect(tie.centre).toEqual({ x: pose.x, y: pose.y })
      expect(tie.axisRad - pose.headingRad).toBeCloseTo(Math.PI / 2, 12)
    }
  })

  it('a track without a line has none, one with an absurd spacing no ties', () => {
    const broken = planWith({ tracks: [aTrack({ corners: [aCorner({ x: 0, y: 0 })] })] })
    expect(plainOf(broken)).toEqual({ trackId: 'track-1', rails: [], ties: [] })
    const main = plan.lineClasses['main'] as LineClass
    const absurd = planWith({ tracks: [aTrack()], lineClasses: [{ ...main, tieSpacingMm: 1e-9 }] })
    expect(plainOf(absurd).ties).toEqual([])
    expect(plainOf(absurd).rails).toHaveLength(2)
  })
})

describe.each(['rising', 'falling'] as const)('a turnout facing %s', (facing) => {
  const plan = planWith({ tracks: [aTrack()], turnouts: [aTurnout({ stationMm: 1000, facing })] })
  const spacing = spacingOf(plan)
  const turnout = turnoutOf(plan)
  const toStation = (x: number): number => (facing === 'rising' ? 1000 + x : 1000 - x)

  it('has the rails from its front to the heel of its frog, the plain track the rest', () => {
    const ends = [toStation(turnout.geometry.extent.fromMm), toStation(turnout.geometry.overallMm)].sort((a, b) => a - b)
    const left = plainOf(plan).rails.filter(({ role }) => role === 'left')
    expect(left.map(({ gaugeLine: { fromMm, toMm } }) => [fromMm, toMm])).toEqual([
      [0, ends[0]],
      [ends[1], 2000],
    ])
  })

  it('joins its rails to those of the plain track end to end', () => {
    const ends = turnout.rails.flatMap(({ gaugeLine: { path } }) => [path.elements[0]?.start ?? path.end, path.end])
    for (const { gaugeLine } of plainOf(plan).rails) {
      for (const station of [gaugeLine.fromMm, gaugeLine.toMm].filter((at) => at > 0 && at < 2000)) {
        const nearest = Math.min(...ends.map(({ x, y }) => Math.hypot(x - station, y - gaugeLine.offsetMm)))
        expect(nearest, `at ${station}`).toBeLessThan(1e-6)
      }
    }
  })

  it('has ties in one even row with the plain ones along the straight route', () => {
    const own = turnout.ties.map(({ centre }) => centre.x)
    const all = [...plainOf(plan).ties.map(({ stationMm }) => stationMm), ...own].sort((a, b) => a - b)
    for (const gap of gapsOf(all)) expect(Math.abs(gap - spacing)).toBeLessThan(spacing / 100)
    expect(Math.min(...own)).toBeCloseTo(Math.min(toStation(0), toStation((turnout.ties.length - 1) * spacing)), 6)
  })

  it('stands in the plan as it does in its own frame', () => {
    const [first] = turnout.ties
    const local = first && poseToLocal(turnout.pose, first.centre)
    expect(local?.x).toBeCloseTo(0, 9)
    for (const [i, gap] of turnout.gaps.entries()) {
      const at = turnout.geometry.gaps[i]?.at
      const back = poseToLocal(turnout.pose, gap.at)
      expect(Math.hypot(back.x - (at?.x ?? 0), back.y - (at?.y ?? 0))).toBeLessThan(1e-9)
    }
  })

  it.each([
    ['straight', 2],
    ['curved', 5],
  ] as const)('shows planed rails as their tapers and the rest, without a step between them: %s points, %d parts', (points, count) => {
    const [build] = Object.values(plan.turnouts).map((record) => record.build)
    if (!build) throw new Error('no turnout')
    const { rails } = turnoutOf(
      planWith({ tracks: [aTrack()], turnouts: [aTurnout({ stationMm: 1000, facing, build: { ...build, points } })] }),
    )
    const parts = rails.filter(({ role }) => role === 'point-curved')
    expect(parts).toHaveLength(count)
    expect(parts[0]?.startHeadMm).toBeCloseTo(0.127, 12)
    for (const [i, part] of parts.entries()) {
      const next = parts[i + 1]
      expect(part.gaugeLine.toMm).toBe(next ? next.gaugeLine.fromMm : part.gaugeLine.path.lengthMm)
      if (next) expect(part.endHeadMm ?? part.headWidthMm).toBeCloseTo(next.startHeadMm ?? next.headWidthMm, 9)
    }
    expect(parts.at(-1)).not.toHaveProperty('startHeadMm')
    expect(parts.at(-1)).not.toHaveProperty('endHeadMm')
  })
})

describe('a track on a leg', () => {
  const spur = aTrack({
    id: 'track-2',
    start: { kind: 'leg', turnout: 'turnout-1', leg: 'diverging' },
    corners: [],
    end: { kind: 'free', x: 1900, y: 300 },
  })
  const plan = planWith({ tracks: [aTrack(), spur], turnouts: [aTurnout()] })
  const turnout = turnoutOf(plan)

  it('has its rails from the heel of the frog on, in line with the turnout', () => {
    const ends = turnout.rails.map(({ gaugeLine: { path } }) => path.end)
    for (const { gaugeLine } of plainOf(plan, 'track-2').rails) {
      expect(gaugeLine.fromMm).toBe(0)
      const { x, y, headingRad } = pathPoseAt(gaugeLine.path, 0)
      const at = { x: x - gaugeLine.offsetMm * Math.sin(headingRad), y: y + gaugeLine.offsetMm * Math.cos(headingRad) }
      expect(Math.min(...ends.map((end) => Math.hypot(end.x - at.x, end.y - at.y)))).toBeLessThan(1e-6)
    }
  })

  it.each([4, 6, 12])('No. %d: its first tie clears the last long tie, and is no farther than it must be', (frog) => {
    const withFrog = planWith({ tracks: [aTrack(), spur], turnouts: [aTurnout({ frog })] })
    const last = turnoutOf(withFrog).ties.at(-1)
    const [first] = plainOf(withFrog, 'track-2').ties
    if (!last || !first) throw new Error('no ties')
    const spacing = spacingOf(withFrog)
    const leadEdge = last.centre.x + last.widthMm / 2
    const clear = Math.min(...tieCorners(first).map(({ x }) => x)) - leadEdge
    expect(clear).toBeGreaterThan(0)
    expect(clear).toBeLessThan(spacing)
  })

  it('a track that ends at a leg leaves the same ties to the turnout', () => {
    const arriving = { ...spur, start: { kind: 'free', x: 1900, y: 300 } as const, end: spur.start }
    const reversed = planWith({ tracks: [aTrack(), arriving], turnouts: [aTurnout()] })
    const there = plainOf(plan, 'track-2').ties.map(({ centre }) => centre)
    const back = plainOf(reversed, 'track-2').ties.map(({ centre }) => centre)
    expect(back).toHaveLength(there.length)
    for (const [i, { x, y }] of back.toReversed().entries())
      expect(Math.hypot(x - (there[i]?.x ?? 0), y - (there[i]?.y ?? 0))).toBeLessThan(1e-6)
  })
})

describe('on a loop', () => {
  const square = [0, 1, 2, 3].map((i) =>
    aCorner({ id: `pi-${i + 1}`, x: i === 0 || i === 3 ? 0 : 4000, y: i < 2 ? 0 : 4000, radius: 900, easementIn: 0, easementOut: 0 }),
  )
  const loop = aTrack({ start: { kind: 'free', x: 0, y: 2000 }, corners: square, end: { kind: 'closed' } })

  it('ties go round evenly, past station zero too', () => {
    const plan = planWith({ tracks: [loop] })
    const line = laid(plan).network.tracks.get('track-1')?.alignment
    if (!line?.ok) throw new Error('not solved')
    const stations = plainOf(plan).ties.map(({ stationMm }) => stationMm)
    const gaps = gapsOf([...stations, (stations[0] ?? 0) + line.path.lengthMm])
    expect(Math.max(...gaps) - Math.min(...gaps)).toBeLessThan(1e-6)
    expect(stations).toHaveLength(Math.round(line.path.lengthMm / spacingOf(plan)))
  })

  it('a turnout across station zero takes rails and ties at both ends of the stations', () => {
    const plan = planWith({ tracks: [loop], turnouts: [aTurnout({ stationMm: 50, facing: 'falling' })] })
    const { geometry } = turnoutOf(plan)
    const line = laid(plan).network.tracks.get('track-1')?.alignment
    if (!line?.ok) throw new Error('not solved')
    const { rails, ties } = plainOf(plan)
    expect(rails).toHaveLength(2)
    expect(rails[0]?.gaugeLine.fromMm).toBeCloseTo(50 - geometry.extent.fromMm, 9)
    expect(rails[0]?.gaugeLine.toMm).toBeCloseTo(line.path.lengthMm + 50 - geometry.overallMm, 9)
    const last = (geometry.ties.length - 1) * spacingOf(plan)
    for (const { stationMm } of ties) {
      expect(stationMm).toBeGreaterThan(50)
      expect(stationMm).toBeLessThan(line.path.lengthMm + 50 - last)
    }
    // No tie stands on another, and none is missing between the rows.
    const all = [
      ...ties.map(({ stationMm }) => stationMm),
      ...geometry.ties.map((tie) => (50 - tie.stationMm + line.path.lengthMm) % line.path.lengthMm),
    ]
    const sorted = all.sort((a, b) => a - b)
    const gaps = gapsOf([...sorted, (sorted[0] ?? 0) + line.path.lengthMm])
    for (const gap of gaps) expect(Math.abs(gap - spacingOf(plan))).toBeLessThan(0.05)
  })
})

it('a tie has its corners half its length along and half its width across its axis, anticlockwise', () => {
  const corners = tieCorners({ centre: { x: 10, y: 20 }, axisRad: Math.PI / 2, lengthMm: 8, widthMm: 2, stationMm: 0 })
  const byHand = [
    [11, 16],
    [11, 24],
    [9, 24],
    [9, 16],
  ]
  for (const [i, { x, y }] of corners.entries()) {
    expect(x).toBeCloseTo(byHand[i]?.[0] ?? 0, 12)
    expect(y).toBeCloseTo(byHand[i]?.[1] ?? 0, 12)
  }
})

it('the turnout keeps gauge in the plan as in its own frame, on any heading', () => {
  const plan = planWith({ tracks: [aTrack({ end: { kind: 'free', x: 1200, y: -1600 } })], turnouts: [aTurnout({ stationMm: 700 })] })
  const { rails } = turnoutOf(plan)
  const line = (role: string) => rails.find((rail) => rail.role === role)?.gaugeLine.path
  const [closure, stock] = [line('closure-curved'), line('stock-curved')]
  if (!closure || !stock) throw new Error('rails missing')
  for (let i = 0; i <= 10; i++) {
    const at = pathPoseAt(closure, (closure.lengthMm * i) / 10)
    expect(Math.abs(pathNearest(stock, at).distanceMm - plan.railway.gaugeMm)).toBeLessThan(1e-6)
  }
})

describe('a frog heel that reaches past the long ties', () => {
  const build = { ...aTurnout().build, heelLengthMm: 130 }
  const plan = planWith({
    tracks: [
      aTrack(),
      aTrack({
        id: 'track-2',
        name: 'Spur',
        start: { kind: 'leg', turnout: 'turnout-1', leg: 'diverging' },
        end: { kind: 'free', x: 1400, y: 141 },
      }),
    ],
    turnouts: [aTurnout({ build })],
  })
  const spacing = spacingOf(plan)
  const turnout = turnoutOf(plan)
  const { leg } = turnout
  const longTies = turnout.geometry.ties.length

  it('lies on ties of its own, square to the diverging route and centred on it, at most a spacing and a half apart, up to the leg', () => {
    const own = turnout.ties.slice(longTies)
    expect(own.length).toBeGreaterThan(3)
    const backs = own.map(({ centre, axisRad, lengthMm }) => {
      const seen = poseToLocal(leg, centre)
      expect(Math.abs(seen.y)).toBeLessThan(1e-9)
      expect(axisRad - leg.headingRad).toBeCloseTo(Math.PI / 2, 9)
      expect(lengthMm).toBe(plan.railway.tieLengthMm)
      return seen.x
    })
    expect(backs.at(-1)).toBeCloseTo(0, 9)
    for (const gap of gapsOf(backs)) expect(gap).toBeLessThan(1.5 * spacing)
    // The first clears the last long tie.
    const lastLong = turnout.geometry.ties.at(-1)?.stationMm ?? NaN
    expect(500 + lastLong).toBeLessThan(Math.min(...(own[0] ? tieCorners(own[0]).map(({ x }) => x) : [NaN])))
  })

  it('and the track from its leg begins there, not behind it', () => {
    const stations = plainOf(plan, 'track-2').ties.map(({ stationMm }) => stationMm)
    expect(stations[0]).toBeGreaterThan(spacing / 2)
    expect(stations[0]).toBeLessThan(1.5 * spacing)
  })
})
