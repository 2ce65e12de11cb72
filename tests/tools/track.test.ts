import { describe, expect, it } from 'vitest'
import { pathPoseAt } from '../../src/core/geom/index.ts'
import { aTrack, aTurnout, planWith } from '../support/plans.ts'
import { aShelf, box } from '../support/rooms.ts'
import { only, toolHarness, type ToolHarness } from '../support/toolHarness.ts'

function solved(hand: ToolHarness, id: string) {
  const alignment = hand.network().tracks.get(id)?.alignment
  if (alignment?.ok !== true) throw new Error(`${id} is not solved`)
  return alignment
}

describe('laying a track', () => {
  it('lays one with three PIs, easements by class, and ends on a double click', () => {
    const hand = toolHarness(undefined, 'track')
    hand.click(0, 0).click(3000, 2).click(2997, 3000).click(2, 3000).doubleClick(0, 100)
    hand.expectUndoCount(1).expectTool('select')
    const track = only(hand.plan().tracks)
    expect(track.corners).toMatchObject([
      { x: 2997.2, y: 0 },
      { x: 2997.2, y: 2997.2 },
      { x: 0, y: 2997.2 },
    ])
    expect(
      track.corners.every((corner) => corner.radius === 'class' && corner.easementIn === 'class' && corner.easementOut === 'class'),
    ).toBe(true)
    expect(track.start.kind).toBe('free')
    expect(track.end.kind).toBe('free')
    expect(track.lineClass).toBe('main')
    const alignment = solved(hand, track.id)
    // Line, easement, arc, easement for each of three corners, and the last line.
    expect(alignment.path.elements).toHaveLength(13)
    expect(hand.selection()).toEqual({ kind: 'record', table: 'tracks', id: 'track-1' })
  })

  it('shows how far its first point keeps from the edge of the wood, of all pieces that lie together, and of none beside it', () => {
    // Two tables side by side: where they meet there is no edge. A hole has edges like any other.
    const [left, right] = [aShelf(box(0, 0, 2000, 1000)), aShelf(box(2000, 0, 4000, 1000), { id: 'benchwork-2' })]
    const hole = box(3000, 400, 3200, 600)
    const plan = planWith({ benchworks: [left, { ...right, holes: [hole] }] })
    const hand = toolHarness(plan, 'track').holding({ alt: true })
    const readings = (): readonly unknown[] => hand.sketch().flatMap((item) => (item.kind === 'reading' ? [item.of] : []))
    hand.pointerMove(1990, 150)
    expect(readings()).toEqual([
      { kind: 'distance', from: { x: expect.closeTo(1990, 3), y: expect.closeTo(0, 3) }, to: { x: 1990, y: 150 } },
    ])
    hand.pointerMove(2900, 500)
    expect(readings()).toMatchObject([{ from: { x: expect.closeTo(3000, 3), y: expect.closeTo(500, 3) } }])
    hand.pointerMove(1000, -50)
    expect(readings()).toEqual([])
    hand.pointerMove(3100, 500)
    expect(readings()).toEqual([])
    // Once it is set, the side from it is measured instead.
    hand.click(1000, 200).pointerMove(1500, 200)
    expect(readings()).toEqual([])
    expect(hand.sketch().filter(({ kind }) => kind === 'measure')).toHaveLength(1)
  })

  it('lets the easements of a shallow corner meet, shown while it is laid', () => {
    for (const angle of [1, 3, 8, 15, 27]) {
      const hand = toolHarness(undefined, 'track').holding({ alt: true })
      const turn = (angle * Math.PI) / 180
      const [x, y] = [2500 + 2500 * Math.cos(turn), 2500 * Math.sin(turn)]
      hand.click(0, 0).click(2500, 0).pointerMove(x, y)
      const preview = hand.sketch().find((item) => item.kind === 'alignment')
      hand.doubleClick(x, y)
      const track = only(hand.plan().tracks)
      const { path } = solved(hand, track.id)
      expect(preview?.kind === 'alignment' && preview.alignment.ok && preview.alignment.path.lengthMm).toBeCloseTo(path.lengthMm, 9)
      // Line, easement, easement, line. An easement of length L turns L / 2R, so two that meet leave R = L / turn in the middle.
      expect(path.elements).toHaveLength(4)
      const [, into, out] = path.elements
      expect(into?.k1).toBeCloseTo(turn / (into?.lengthMm ?? Number.NaN), 9)
      expect(out?.k0).toBe(into?.k1)
      expect(1 / (into?.k1 ?? 0)).toBeGreaterThan(hand.plan().lineClasses['main']?.usualRadiusMm ?? Number.NaN)
    }
  })

  it('shows the solved line while it is laid', () => {
    const hand = toolHarness(undefined, 'track').click(0, 0).click(2000, 0).pointerMove(2000, 2000)
    const preview = hand.sketch().find((item) => item.kind === 'alignment')
    expect(preview?.kind === 'alignment' && preview.alignment.ok && preview.alignment.path.elements.length).toBe(5)
    expect(hand.plan().tracks).toEqual({})
  })

  it('closes a loop on its first point: every point a corner, stations from half way between the last and the first', () => {
    const hand = toolHarness(undefined, 'track')
    hand.holding({ alt: false }).click(0, 0).click(4000, 0).click(4000, 3200).click(0, 3200).click(3, -4)
    const track = only(hand.plan().tracks)
    expect(track.end.kind).toBe('closed')
    expect(track.corners).toHaveLength(4)
    const alignment = solved(hand, track.id)
    expect(alignment.isClosed).toBe(true)
    const [start, end] = [pathPoseAt(alignment.path, 0), alignment.path.end]
    // The loop must meet itself; a millionth of a millimetre is rounding over 10 m.
    expect(Math.hypot(end.x - start.x, end.y - start.y)).toBeLessThan(1e-6)
  })

  it('takes a first point on a side as the place where stations begin', () => {
    const hand = toolHarness(undefined, 'track')
    hand.click(1500, 0).click(3000, 0).click(3000, 2200).click(0, 2200).click(0, 0).click(1500, 0)
    const track = only(hand.plan().tracks)
    expect(track.end.kind).toBe('closed')
    expect(track.corners).toHaveLength(4)
    expect(track.start).toMatchObject({ kind: 'free', y: 0 })
  })

  it('is laid by typing alone', () => {
    const hand = toolHarness(undefined, 'track').type('0;0').type('80in<0').type('80in<90').enter()
    const track = only(hand.plan().tracks)
    expect(track.corners).toMatchObject([{ x: 2032, y: 0 }])
    expect(track.end).toEqual({ kind: 'free', x: 2032, y: 2032 })
  })

  it('needs a second point', () => {
    toolHarness(undefined, 'track').click(0, 0).enter().expectHint('needPoints').expectUndoCount(0)
  })

  it('takes the class that is chosen in the strip', () => {
    const hand = toolHarness(undefined, 'track').option({ kind: 'lineClass', lineClass: 'yard' }).click(0, 0).doubleClick(900, 0)
    expect(only(hand.plan().tracks).lineClass).toBe('yard')
  })
})

describe('a track from and to a leg', () => {
  const host = planWith({ tracks: [aTrack({ end: { kind: 'free', x: 4000, y: 0 } })], turnouts: [aTurnout({ stationMm: 1000 })] })
  const legOf = (hand: ToolHarness, id: string) => {
    const result = hand.network().turnouts.get(id)?.result
    if (result?.ok !== true) throw new Error('the turnout is not in its place')
    return result.leg
  }

  it('starts at the leg, and its first PI keeps to the tangent of the leg', () => {
    const hand = toolHarness(host, 'track')
    const leg = legOf(hand, 'turnout-1')
    hand.click(leg.x + 3, leg.y + 2)
    hand.click(leg.x + 900, leg.y + 300).doubleClick(leg.x + 1800, leg.y + 1600)
    const track = hand.plan().tracks['track-2']
    expect(track?.start).toEqual({ kind: 'leg', turnout: 'turnout-1', leg: 'diverging' })
    const corner = track?.corners[0]
    if (corner === undefined) throw new Error('no corner')
    const across = (corner.y - leg.y) * Math.cos(leg.headingRad) - (corner.x - leg.x) * Math.sin(leg.headingRad)
    expect(Math.abs(across)).toBeLessThan(1e-9)
    const { path } = solved(hand, 'track-2')
    const start = pathPoseAt(path, 0)
    expect(Math.hypot(start.x - leg.x, start.y - leg.y)).toBeLessThan(1e-9)
    expect(start.headingRad).toBeCloseTo(leg.headingRad, 12)
  })

  it('ends at a leg that it is clicked on', () => {
    const two = planWith({
      tracks: [aTrack({ end: { kind: 'free', x: 5000, y: 0 } })],
      turnouts: [aTurnout({ stationMm: 1000 }), aTurnout({ id: 'turnout-2', stationMm: 4000, facing: 'falling', hand: 'right' })],
    })
    const hand = toolHarness(two, 'track')
    const [a, b] = [legOf(hand, 'turnout-1'), legOf(hand, 'turnout-2')]
    hand
      .click(a.x, a.y)
      .click(a.x + 400, a.y + 70)
      .click(b.x - 400, b.y + 70)
      .click(b.x, b.y)
    const track = hand.plan().tracks['track-2']
    expect(track?.end).toEqual({ kind: 'leg', turnout: 'turnout-2', leg: 'diverging' })
    expect(track?.corners).toHaveLength(2)
  })

  it('does not start twice from one leg', () => {
    const hand = toolHarness(host, 'track')
    const leg = legOf(hand, 'turnout-1')
    hand
      .click(leg.x, leg.y)
      .doubleClick(leg.x + 800, leg.y + 100)
      .take('track')
    hand.click(leg.x, leg.y).doubleClick(leg.x + 300, leg.y + 500)
    expect(hand.plan().tracks['track-3']?.start.kind).toBe('free')
  })
})

describe('drawing a track on', () => {
  const on = planWith({
    tracks: [aTrack({ start: { kind: 'free', x: 0, y: 0 }, end: { kind: 'free', x: 4000, y: 0 } })],
    turnouts: [aTurnout({ stationMm: 2000, frog: 6 })],
    portals: [{ id: 'portal-1', name: 'Portal', track: 'track-1', stationMm: 3000, lengthMm: 50, leftMm: 40, rightMm: 40, heightMm: 100 }],
    readings: [{ id: 'reading-1', name: 'Measured', of: { kind: 'along', track: 'track-1', fromMm: 2500, toMm: 3500 } }],
  })

  it('goes from its start as from its end: ahead first, one step, and what stands on it stays where it is', () => {
    const hand = toolHarness(on, 'track').holding({ alt: true }).option({ kind: 'drawOn', track: 'track-1', end: 'start' })
    const place = () => {
      const { path } = solved(hand, 'track-1')
      const { turnouts, portals, readings } = hand.plan()
      const { of } = only(readings)
      const measured = of.kind === 'along' ? [of.fromMm, of.toMm] : []
      return [only(turnouts).stationMm, only(portals).stationMm, ...measured].map((stationMm) => pathPoseAt(path, stationMm))
    }
    const before = place()
    hand.click(-1500, 40).doubleClick(-1500, -2000).expectUndoCount(1)
    const track = only(hand.plan().tracks)
    // The first point lies on the tangent of the start, whatever was pointed at.
    expect(track).toMatchObject({
      start: { kind: 'free', x: -1500, y: -2000 },
      corners: [{ x: -1500, y: expect.closeTo(0, 9) }],
      end: { kind: 'free', x: 4000, y: 0 },
    })
    place().forEach((pose, i) => {
      expect(pose.x).toBeCloseTo(before[i]?.x ?? Number.NaN, 6)
      expect(pose.y).toBeCloseTo(before[i]?.y ?? Number.NaN, 6)
    })
    hand.undo()
    expect(hand.plan()).toEqual(on)
  })

  it('says so where what stands on it could not be counted', () => {
    const hand = toolHarness(on, 'track').holding({ alt: true }).option({ kind: 'drawOn', track: 'track-1', end: 'start' })
    hand.click(-100, 0).doubleClick(-100, -100).expectUndoCount(0).expectHint('startUnsolved')
    expect(hand.plan()).toEqual(on)
  })

  it('keeps the order of several points', () => {
    const hand = toolHarness(planWith({ tracks: [aTrack({ end: { kind: 'free', x: 3000, y: 0 } })] }), 'track').holding({ alt: true })
    hand.option({ kind: 'drawOn', track: 'track-1', end: 'start' }).click(-2500, 0).click(-2500, -3000).doubleClick(-6000, -3000)
    expect(only(hand.plan().tracks).corners).toMatchObject([
      { x: -2500, y: -3000 },
      { x: -2500, y: expect.closeTo(0, 9) },
    ])
    expect(solved(hand, 'track-1').path.end.x).toBeCloseTo(3000, 6)
  })

  it('does not begin at the seam of a loop or on a leg', () => {
    const leg = planWith({
      tracks: [
        aTrack({ end: { kind: 'free', x: 4000, y: 0 } }),
        aTrack({ id: 'track-2', start: { kind: 'leg', turnout: 'turnout-1', leg: 'diverging' }, end: { kind: 'free', x: 3500, y: 240 } }),
      ],
      turnouts: [aTurnout({ stationMm: 2000, frog: 6 })],
    })
    toolHarness(leg, 'track').option({ kind: 'drawOn', track: 'track-2', end: 'start' }).expectState('idle').expectHint('noTrackHere')
  })
})
