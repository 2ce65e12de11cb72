import { describe, expect, it } from 'vitest'
import { pipelineCreate } from '../../src/core/pipeline/index.ts'
import type { Benchwork } from '../../src/core/plan/types.ts'
import { throwZonesOf } from '../../src/core/turnout/index.ts'
import { aCorner, aTrack, aTurnout, planWith } from '../support/plans.ts'
import { only, toolHarness } from '../support/toolHarness.ts'

const bent = planWith({ tracks: [aTrack({ corners: [aCorner({ x: 2000, y: 0 })], end: { kind: 'free', x: 2000, y: 2000 } })] })
const track = { kind: 'record', table: 'tracks', id: 'track-1' } as const
const board: Benchwork = {
  id: 'benchwork-1',
  name: 'Board',
  outline: [
    { x: 0, y: 0 },
    { x: 1000, y: 0 },
    { x: 1000, y: 600 },
    { x: 0, y: 600 },
  ],
  holes: [],
  heightMm: 1200,
}
const boarded = planWith({ benchworks: [board] })
const boardSelected = { kind: 'record', table: 'benchworks', id: 'benchwork-1' } as const

describe('choosing', () => {
  it('selects what is clicked, and nothing beside everything', () => {
    const hand = toolHarness(bent).click(500, 3)
    expect(hand.selection()).toEqual(track)
    hand.click(2001, 2)
    expect(hand.selection()).toEqual({ kind: 'corner', track: 'track-1', corner: 'pi-1' })
    hand.click(500, 500)
    expect(hand.selection()).toEqual({ kind: 'none' })
  })

  it('tells the track chart where the pointer is', () => {
    const hand = toolHarness(bent).pointerMove(500, 2)
    expect(hand.hover()?.track).toBe('track-1')
    // Within a nanometre of the foot of the pointer on a straight along x.
    expect(hand.hover()?.stationMm).toBeCloseTo(500, 6)
    hand.pointerMove(500, 500)
    expect(hand.hover()).toBeNull()
  })

  it('takes hold of handles only when they show', () => {
    const hand = toolHarness(bent)
    expect(hand.takesDrag(2000, 0)).toBe(false)
    hand.select(track)
    expect(hand.takesDrag(2000, 0)).toBe(true)
    expect(hand.takesDrag(300, 300)).toBe(false)
  })
})

describe('dragging a PI', () => {
  it('is one step, and undo brings back the very numbers', () => {
    const hand = toolHarness(bent).select(track)
    const before = hand.plan()
    hand.drag([2002, 1], [2402, -299]).expectState('idle').expectUndoCount(1).expectNoTransaction()
    const { corners } = only(hand.plan().tracks)
    expect(corners[0]).toMatchObject({ x: 2400, y: -300 })
    hand.undo()
    expect(hand.plan()).toEqual(before)
  })

  it('changes the plan while it goes on and the committed one only at its end', () => {
    const hand = toolHarness(bent).select(track).holding({ alt: true }).pointerDown(2000, 0).pointerMove(2100, 40).expectState('dragging')
    expect(only(hand.plan().tracks).corners[0]).toMatchObject({ x: 2100, y: 40 })
    expect(only(hand.committed().tracks).corners[0]).toMatchObject({ x: 2000, y: 0 })
    hand.pointerUp(2100, 40).expectNoTransaction()
  })

  it('keeps to a tangent that it is near, so that the other side keeps its direction', () => {
    const hand = toolHarness(bent).select(track).drag([2000, 0], [2300, 5])
    expect(only(hand.plan().tracks).corners[0]).toMatchObject({ x: 2300, y: 0 })
  })

  it('takes easements that meet while it turns too little for an arc, and the curve of its class again when it turns enough', () => {
    const hand = toolHarness(bent).select(track).holding({ alt: true }).pointerDown(2000, 0)
    const corner = () => only(hand.plan().tracks).corners[0]
    const isSolved = () => hand.network().tracks.get('track-1')?.alignment.ok
    hand.pointerMove(1050, 950)
    expect([corner()?.radius, isSolved()]).toEqual(['easement-only', true])
    hand.pointerMove(1900, 60)
    expect([corner()?.radius, isSolved()]).toEqual(['class', true])
    hand.pointerMove(1050, 950).pointerUp(1050, 950)
    expect([corner()?.radius, isSolved()]).toEqual(['easement-only', true])
    // A later drag gives it back as well; a radius of its own is never touched.
    hand.drag([1050, 950], [2000, 0])
    expect([corner()?.radius, isSolved()]).toEqual(['class', true])
    const own = planWith({
      tracks: [aTrack({ corners: [aCorner({ x: 2000, y: 0, radius: 800 })], end: { kind: 'free', x: 2000, y: 2000 } })],
    })
    const kept = toolHarness(own).select(track).holding({ alt: true }).drag([2000, 0], [1050, 950])
    expect(only(kept.plan().tracks).corners[0]?.radius).toBe(800)
  })

  it('is given up by Escape', () => {
    const hand = toolHarness(bent).select(track)
    const before = hand.plan()
    hand.pointerDown(2000, 0).pointerMove(2300, 100).escape().expectState('idle').expectNoTransaction().expectUndoCount(0)
    expect(hand.plan()).toBe(before)
    hand.pointerUp(2300, 100).expectUndoCount(0)
  })

  it('does nothing on a press that does not move', () => {
    const hand = toolHarness(bent).select(track).pointerDown(2000, 0).pointerMove(2002, 1).pointerUp(2002, 1)
    hand.expectUndoCount(0)
    expect(hand.selection()).toEqual({ kind: 'corner', track: 'track-1', corner: 'pi-1' })
  })
})

describe('dragging ends', () => {
  const host = planWith({
    tracks: [
      aTrack({ end: { kind: 'free', x: 4000, y: 0 } }),
      aTrack({ id: 'track-2', name: 'Spur', start: { kind: 'free', x: 1500, y: 600 }, end: { kind: 'free', x: 2500, y: 600 } }),
    ],
    turnouts: [aTurnout({ stationMm: 1000 })],
  })

  it('moves a free end', () => {
    const hand = toolHarness(host).select({ kind: 'record', table: 'tracks', id: 'track-2' }).drag([2500, 600], [2800, 601])
    expect(hand.plan().tracks['track-2']?.end).toEqual({ kind: 'free', x: 2800, y: 600 })
  })

  it('joins a leg that it is dropped on, and comes loose again', () => {
    const hand = toolHarness(host).select({ kind: 'record', table: 'tracks', id: 'track-2' })
    const result = hand.network().turnouts.get('turnout-1')?.result
    if (result?.ok !== true) throw new Error('no leg')
    const { leg } = result
    hand.drag([1500, 600], [leg.x + 2, leg.y - 2])
    expect(hand.plan().tracks['track-2']?.start).toEqual({ kind: 'leg', turnout: 'turnout-1', leg: 'diverging' })
    hand.drag([leg.x, leg.y], [1500, 700])
    expect(hand.plan().tracks['track-2']?.start.kind).toBe('free')
    hand.expectUndoCount(2)
  })
})

describe('benchwork', () => {
  it('moves one corner', () => {
    const hand = toolHarness(boarded).select(boardSelected).drag([1000, 600], [1203, 604])
    expect(only(hand.plan().benchworks).outline[2]).toEqual({ x: 1203, y: 600 })
  })

  it('moves as a whole once it is selected, by whole steps', () => {
    const hand = toolHarness(boarded)
    hand.drag([500, 300], [700, 300]).expectUndoCount(0)
    hand.click(500, 300).drag([500, 300], [627, 300]).expectUndoCount(1)
    expect(only(hand.plan().benchworks).outline.map(({ x }) => x)).toEqual([127, 1127, 1127, 127])
  })

  it('gets a point in a side by a double click, and loses it by Delete', () => {
    const hand = toolHarness(boarded).doubleClick(400, 2).expectUndoCount(1)
    expect(only(hand.plan().benchworks).outline[1]).toEqual({ x: 400, y: 0 })
    expect(hand.selection()).toEqual({ kind: 'ringPoint', benchwork: 'benchwork-1', ring: -1, index: 1 })
    hand.key('Delete').expectUndoCount(2)
    expect(only(hand.plan().benchworks).outline).toEqual(board.outline)
  })

  it('is removed whole, and is not left with two points', () => {
    const three = planWith({ benchworks: [{ ...board, outline: board.outline.slice(0, 3) }] })
    const hand = toolHarness(three).select({ kind: 'ringPoint', benchwork: 'benchwork-1', ring: -1, index: 0 }).key('Delete')
    hand.expectHint('lastPoints').expectUndoCount(0)
    hand.select(boardSelected).key('Delete').expectUndoCount(1)
    expect(hand.plan().benchworks).toEqual({})
  })
})

describe('a turnout', () => {
  const host = planWith({ tracks: [aTrack({ end: { kind: 'free', x: 4000, y: 0 } })], turnouts: [aTurnout({ stationMm: 1016 })] })
  const selected = { kind: 'record', table: 'turnouts', id: 'turnout-1' } as const

  it('slides along its host wherever the hand strays', () => {
    const hand = toolHarness(host).select(selected).drag([1100, 2], [1608, 300]).expectUndoCount(1)
    expect(only(hand.plan().turnouts).stationMm).toBeCloseTo(1016 + 508, 9)
    hand.undo()
    expect(only(hand.plan().turnouts).stationMm).toBe(1016)
  })

  it('takes a typed step, a typed station behind its sign, and no station that its track has not', () => {
    const held = () => toolHarness(host).select(selected).pointerDown(1100, 2).pointerMove(1300, 40)
    const lies = (text: string) => only(held().type(text).pointerUp(1300, 40).plan().turnouts).stationMm
    expect(lies('-6in')).toBeCloseTo(1016 - 152.4, 9)
    expect(lies('sta 6\' 3 1/2"')).toBeCloseTo(75.5 * 25.4, 9)
    expect(lies('station 2000mm')).toBeCloseTo(2000, 9)
    for (const beyond of ['sta 4001mm', '-1017mm']) expect(held().type(beyond).hint()).toEqual({ kind: 'beyondTrack', lengthMm: 4000 })
  })

  it('is drawn to where it just touches its neighbour: then the two are laid, and neither is in the other’s way', () => {
    const two = planWith({
      tracks: [aTrack({ end: { kind: 'free', x: 4000, y: 0 } })],
      turnouts: [aTurnout({ stationMm: 1016 }), aTurnout({ id: 'turnout-2', stationMm: 2000 })],
    })
    const hand = toolHarness(two).select(selected)
    const own = hand.network().turnouts.get('turnout-1')?.result.geometry
    if (!own) throw new Error('no geometry')
    const touchingMm = 2000 + own.extent.fromMm - own.extent.toMm
    hand.drag([1100, 0], [1100 + touchingMm - 1016 + 4, 0])
    expect(hand.plan().turnouts['turnout-1']?.stationMm).toBeCloseTo(touchingMm, 6)
    hand
      .undo()
      .holding({ alt: true })
      .drag([1100, 0], [1100 + touchingMm - 1016 + 4, 0])
    expect(hand.plan().turnouts['turnout-1']?.stationMm).toBeCloseTo(touchingMm + 4, 6)
  })

  it('is drawn to where a curve of its host begins', () => {
    const bentHost = planWith({
      tracks: [
        aTrack({
          corners: [aCorner({ x: 3000, y: 0 })],
          end: { kind: 'free', x: 3000, y: 3000 },
        }),
      ],
      turnouts: [aTurnout({ stationMm: 800 })],
    })
    const hand = toolHarness(bentHost).select(selected)
    const alignment = hand.network().tracks.get('track-1')?.alignment
    const tsMm = alignment?.ok === true ? (alignment.corners[0]?.tsMm ?? NaN) : NaN
    hand.drag([900, 0], [900 + tsMm - 800 - 5, 0])
    expect(only(hand.plan().turnouts).stationMm).toBeCloseTo(tsMm, 6)
  })

  it('is drawn, from near by, to where the ties before it come out at their even spacing', () => {
    const hand = toolHarness(host).select(selected)
    const spacing = hand.network().tracks.get('track-1')?.lineClass.tieSpacingMm ?? NaN
    hand.drag([1100, 0], [1100 + 505, 0])
    const even = only(hand.plan().turnouts).stationMm
    const ties = (pipelineCreate().derive(hand.plan()).trackwork.tracks.get('track-1')?.ties ?? [])
      .map(({ stationMm }) => stationMm)
      .filter((mm) => mm < even)
    expect(ties.length).toBeGreaterThan(100)
    for (const [i, mm] of ties.slice(1).entries()) expect(mm - (ties[i] ?? NaN)).toBeCloseTo(spacing, 6)
  })

  it('hangs its machine beside a joist, not under it', () => {
    const joist = { id: 'joist-1', name: 'Joist', from: { x: 1500, y: -300 }, to: { x: 1500, y: 300 }, widthMm: 19 }
    const hand = toolHarness({ ...host, joists: { 'joist-1': joist } }).select(selected)
    hand.drag([1100, 0], [1100 + 484, 0])
    const turnout = hand.network().turnouts.get('turnout-1')
    if (turnout?.result.ok !== true) throw new Error('not placed')
    const { pose, geometry } = turnout.result
    for (const { middle, lengthMm } of throwZonesOf(geometry)) {
      // The host runs along x: the room's ends are half its length before and behind the bar.
      expect(Math.abs(pose.x + middle.x - 1500)).toBeGreaterThanOrEqual(lengthMm / 2 + 19 / 2)
    }
    expect(Math.abs(turnout.turnout.stationMm - 1500)).toBeLessThan(60)
  })

  it('is nudged along the track by a sixteenth of an inch, ten with Shift', () => {
    const hand = toolHarness(host).select(selected).key('ArrowRight').holding({ shift: true }).key('ArrowRight')
    // cos and sin of a heading of 0 are exact, so is the sum of eleven sixteenths.
    expect(only(hand.plan().turnouts).stationMm).toBeCloseTo(1016 + (11 * 25.4) / 16, 9)
    // Across the track it does not go.
    hand.key('ArrowUp').expectUndoCount(1)
  })

  it('is nudged as one step, until something else is done; nudged back to where it was, there is none', () => {
    const hand = toolHarness(host, 'select', 'metric').select(selected)
    for (let i = 0; i < 5; i++) hand.key('ArrowRight')
    hand.expectUndoCount(1)
    const nudged = hand.plan()
    hand.undo()
    expect(hand.plan()).toEqual(host)
    hand.redo()
    expect(hand.plan()).toEqual(nudged)
    hand.apply({ kind: 'turnout.set', id: 'turnout-1', change: { stationMm: 1200 } })
    hand.key('ArrowRight').expectUndoCount(3)
    const back = toolHarness(host, 'select', 'metric').select(selected).key('ArrowRight').key('ArrowLeft').expectUndoCount(0)
    expect(back.plan()).toEqual(host)
    back.key('ArrowRight').expectUndoCount(1)
  })
})

describe('putting in and taking out PIs', () => {
  it('puts one in where a side is double clicked', () => {
    const hand = toolHarness(bent).doubleClick(800, 3).expectUndoCount(1)
    const { corners } = only(hand.plan().tracks)
    expect(corners).toMatchObject([{ id: 'pi-2', x: 800, y: 0, radius: 'class' }, { id: 'pi-1' }])
    expect(hand.selection()).toEqual({ kind: 'corner', track: 'track-1', corner: 'pi-2' })
    hand.key('Delete')
    expect(only(hand.plan().tracks).corners).toMatchObject([{ id: 'pi-1' }])
    expect(hand.selection()).toEqual(track)
  })

  it('takes a short last side on for a corner that is double clicked into it, as one step', () => {
    const short = planWith({ tracks: [aTrack({ end: { kind: 'free', x: 500, y: 0 } })] })
    const hand = toolHarness(short).doubleClick(300, 3).expectUndoCount(1)
    const { corners, end } = only(hand.plan().tracks)
    const endMm = end.kind === 'free' ? end.x : 0
    expect(corners[0]?.y).toBeCloseTo(0, 9)
    expect(endMm).toBeGreaterThan(1000)
    hand.expectHint('cornerRoom')
    // Now it has room on both sides for a turn by which the curve of its class fits.
    const [hint, fromMm] = [hand.hint(), corners[0]?.x ?? 0]
    if (hint?.kind !== 'cornerRoom') throw new Error('it is told')
    const { turnRad } = hint.room
    const sideMm = endMm - fromMm + 0.1
    hand.holding({ alt: true }).select(track)
    hand.drag([endMm, 0], [fromMm + sideMm * Math.cos(turnRad), sideMm * Math.sin(turnRad)])
    expect(hand.network().tracks.get('track-1')?.alignment.ok).toBe(true)
    hand.undo().undo()
    expect(hand.plan()).toEqual(short)
    // A long side is left as it is.
    const far = { kind: 'free', x: 6000, y: 0 } as const
    const long = toolHarness(planWith({ tracks: [aTrack({ end: far })] }))
      .doubleClick(2800, 3)
      .expectHint(null)
    expect(only(long.plan().tracks)).toMatchObject({ corners: [{ x: 2800 }], end: far })
  })

  it('nudges a PI by arrows: a sixteenth of an inch, or a millimetre', () => {
    const corner = { kind: 'corner', track: 'track-1', corner: 'pi-1' } as const
    const inches = toolHarness(bent).select(corner).key('ArrowUp')
    expect(only(inches.plan().tracks).corners[0]).toMatchObject({ x: 2000, y: 25.4 / 16 })
    const metric = toolHarness(bent, 'select', 'metric').select(corner).holding({ shift: true }).key('ArrowLeft')
    expect(only(metric.plan().tracks).corners[0]).toMatchObject({ x: 1990, y: 0 })
  })

  it('moves a whole free track with what hangs on it, and leaves one that hangs on a leg where it is', () => {
    const hand = toolHarness(bent).select(track).holding({ shift: true }).key('ArrowRight')
    expect(only(hand.plan().tracks)).toMatchObject({ start: { x: 15.875 }, corners: [{ x: 2015.875 }], end: { x: 2015.875 } })
    hand.expectUndoCount(1)
    const tied = planWith({
      tracks: [
        aTrack({ end: { kind: 'free', x: 4000, y: 0 } }),
        aTrack({ id: 'track-2', start: { kind: 'leg', turnout: 'turnout-1', leg: 'diverging' }, end: { kind: 'free', x: 3000, y: 300 } }),
      ],
      turnouts: [aTurnout({ stationMm: 1000 })],
    })
    toolHarness(tied).select({ kind: 'record', table: 'tracks', id: 'track-2' }).key('ArrowUp').expectHint('stretch').expectUndoCount(0)
    const [was] = [tied.tracks['track-2']?.end]
    const whole = toolHarness(tied, 'select', 'metric').select(track).drag([300, 0], [320, 50]).expectUndoCount(1)
    expect([was, whole.plan().tracks['track-2']?.end]).toMatchObject([
      { x: 3000, y: 300 },
      { x: 3020, y: 350 },
    ])
    expect(whole.lastLabel()).toBe('Move Main')
  })
})

describe('refused changes', () => {
  it('says why, and the last good state stays', () => {
    const hand = toolHarness(bent).select(track).holding({ alt: true }).pointerDown(2000, 0).pointerMove(2200, 100)
    // A million millimetres is as far as a plan reaches.
    hand.pointerMove(2e6, 100).expectHint('edit')
    expect(only(hand.plan().tracks).corners[0]).toMatchObject({ x: 2200, y: 100 })
    hand.pointerMove(2300, 100).expectHint(null).pointerUp(2300, 100).expectUndoCount(1)
  })
})
