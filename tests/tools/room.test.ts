import { describe, expect, it } from 'vitest'
import type { Joist, Opening, Portal, Wall } from '../../src/core/plan/types.ts'
import { openingLeaf, openingRings } from '../../src/tools/index.ts'
import { aTrack, planWith } from '../support/plans.ts'
import { only, toolHarness } from '../support/toolHarness.ts'

/** Three metres to the east, then two to the north; its body to the right of that, outside of the room. */
const wall: Wall = {
  id: 'wall-1',
  name: 'South and east',
  points: [
    { x: 0, y: 0 },
    { x: 3000, y: 0 },
    { x: 3000, y: 2000 },
  ],
  thicknessMm: 100,
  isClosed: false,
}
const room = planWith({
  walls: [wall],
  tracks: [aTrack({ start: { kind: 'free', x: 0, y: 1000 }, end: { kind: 'free', x: 2000, y: 1000 } })],
})
const door: Opening = {
  id: 'opening-1',
  name: 'Door',
  wall: 'wall-1',
  fromMm: 1000,
  widthMm: 800,
  leaf: { hinge: 'from', side: 'left' },
  sillMm: null,
}
const joist: Joist = { id: 'joist-1', name: 'Joist', from: { x: 500, y: 500 }, to: { x: 500, y: 1500 }, widthMm: 40 }
const portal: Portal = {
  id: 'portal-1',
  name: 'Bore',
  track: 'track-1',
  stationMm: 600,
  leftMm: 30,
  rightMm: 30,
  lengthMm: 100,
  heightMm: 77,
}

describe('a door', () => {
  it('is set in the wall under the pointer and opens to the side that is pointed from', () => {
    const hand = toolHarness(room, 'opening').holding({ alt: true }).click(1500, 6).expectUndoCount(1).expectTool('select')
    const made = only(hand.plan().openings)
    // A door of 32 in with its middle where the pointer is.
    expect(made).toMatchObject({ wall: 'wall-1', widthMm: 812.8, leaf: { hinge: 'from', side: 'left' } })
    expect(made.fromMm).toBeCloseTo(1500 - 406.4, 6)
    expect(hand.selection()).toEqual({ kind: 'record', table: 'openings', id: 'opening-1' })
    hand.undo().expectPlan((plan) => expect(plan.openings).toEqual({}))
    const outside = toolHarness(room, 'opening').click(1500, -6)
    expect(only(outside.plan().openings).leaf).toEqual({ hinge: 'from', side: 'right' })
  })

  it('takes its hinge from H, becomes a passage by K, and is refused where no wall is', () => {
    const hand = toolHarness(room, 'opening').pointerMove(1500, 6)
    hand.key('h').click(1500, 6)
    expect(only(hand.plan().openings).leaf?.hinge).toBe('to')
    const passage = toolHarness(room, 'opening').key('k').click(1500, 6)
    expect(only(passage.plan().openings)).toMatchObject({ leaf: null, name: 'Passage 1' })
    const window = toolHarness(room, 'opening').key('k').key('k').click(1500, 6)
    expect(only(window.plan().openings)).toMatchObject({ leaf: null, name: 'Window 1', sillMm: 914.4 })
    expect(only(toolHarness(room, 'opening').key('k').key('k').key('k').click(1500, 6).plan().openings).sillMm).toBeNull()
    toolHarness(room, 'opening').click(1500, 700).expectHint('noWallHere').expectUndoCount(0)
  })

  it('goes round no corner: it is kept on the side of its middle', () => {
    const hand = toolHarness(room, 'opening').holding({ alt: true }).click(2950, 6)
    expect(only(hand.plan().openings).fromMm).toBeCloseTo(3000 - 812.8, 6)
    const other = toolHarness(room, 'opening').holding({ alt: true }).click(2994, 100)
    expect(only(other.plan().openings).fromMm).toBeCloseTo(3000, 6)
  })

  it('slides along its wall under a hand and by the arrow keys, as one step each', () => {
    const plan = { ...room, openings: { [door.id]: door } }
    const hand = toolHarness(plan).select({ kind: 'record', table: 'openings', id: door.id }).holding({ alt: true })
    hand.drag([1400, 0], [1900, 40]).expectUndoCount(1)
    expect(only(hand.plan().openings).fromMm).toBeCloseTo(1500, 6)
    hand.drag([1900, 0], [5000, 0])
    expect(only(hand.plan().openings).fromMm).toBeCloseTo(2200, 6)
    hand.key('ArrowLeft')
    expect(only(hand.plan().openings).fromMm).toBeCloseTo(2200 - 25.4 / 16, 6)
  })

  it('takes its place along the wall as typed, and none where its side does not hold it', () => {
    const plan = { ...room, openings: { [door.id]: door } }
    const held = () =>
      toolHarness(plan).select({ kind: 'record', table: 'openings', id: door.id }).pointerDown(1400, 0).pointerMove(1500, 9)
    expect(only(held().type('sta 1850mm').plan().openings).fromMm).toBeCloseTo(1850, 9)
    expect(only(held().type('-250mm').plan().openings).fromMm).toBeCloseTo(750, 9)
    expect(held().type('sta 2300mm').hint()).toEqual({ kind: 'beyondSide', nearestMm: 2200 })
  })

  it('is drawn as a gap through the whole wall and a leaf that stands square to it', () => {
    expect(openingRings(wall, door)).toEqual([
      [
        { x: 1000, y: 0 },
        { x: 1800, y: 0 },
        { x: 1800, y: expect.closeTo(-100, 9) },
        { x: 1000, y: expect.closeTo(-100, 9) },
      ],
    ])
    const leaf = openingLeaf(wall, door)
    expect(leaf?.leaf[1]).toEqual({ x: expect.closeTo(1000, 9), y: expect.closeTo(800, 9) })
    expect(leaf?.arc[0]).toEqual({ x: expect.closeTo(1800, 9), y: expect.closeTo(0, 9) })
    // To the other side it hangs in the other face, from the other jamb it turns the other way.
    const other = openingLeaf(wall, { ...door, leaf: { hinge: 'to', side: 'right' } })
    expect(other?.leaf).toEqual([
      { x: expect.closeTo(1800, 9), y: expect.closeTo(-100, 9) },
      { x: expect.closeTo(1800, 9), y: expect.closeTo(-900, 9) },
    ])
    expect(other?.arc[0]).toEqual({ x: expect.closeTo(1000, 9), y: expect.closeTo(-100, 9) })
    expect(openingLeaf(wall, { ...door, leaf: null })).toBeNull()
  })

  it('is taken out by Delete, and goes with its wall', () => {
    const plan = { ...room, openings: { [door.id]: door } }
    const hand = toolHarness(plan).select({ kind: 'record', table: 'openings', id: door.id }).key('Delete')
    expect(hand.plan().openings).toEqual({})
    const walls = toolHarness(plan).select({ kind: 'record', table: 'walls', id: 'wall-1' }).key('Delete')
    expect(walls.plan().openings).toEqual({})
  })
})

describe('joists and hatches', () => {
  it('a joist is done with its second point, clicked or typed', () => {
    const clicked = toolHarness(room, 'joist')
      .holding({ alt: true })
      .click(200, 300)
      .click(200, 900)
      .expectTool('select')
      .expectUndoCount(1)
    expect(only(clicked.plan().joists)).toMatchObject({ from: { x: 200, y: 300 }, to: { x: 200, y: 900 }, widthMm: 19.05 })
    const typed = toolHarness(room, 'joist').type('10;10').type('24in<90').expectUndoCount(1)
    expect(only(typed.plan().joists).to).toEqual({ x: expect.closeTo(254, 6), y: expect.closeTo(254 + 609.6, 6) })
  })

  it('a joist is dragged by an end, and as a whole once it is selected', () => {
    const plan = { ...room, joists: { [joist.id]: joist } }
    const hand = toolHarness(plan).select({ kind: 'record', table: 'joists', id: joist.id }).holding({ alt: true })
    hand.drag([500, 1500], [620, 1510]).expectUndoCount(1)
    expect(only(hand.plan().joists)).toMatchObject({ from: joist.from, to: { x: 620, y: 1510 } })
    hand.undo().drag([500, 900], [540, 930])
    expect(only(hand.plan().joists)).toMatchObject({ from: { x: 540, y: 530 }, to: { x: 540, y: 1530 } })
  })

  it('a hatch is drawn as a ring, and its corners can be dragged', () => {
    const hand = toolHarness(room, 'hatch').holding({ alt: true }).click(100, 1200).click(700, 1200).click(700, 1800).enter()
    expect(only(hand.plan().hatches).outline).toHaveLength(3)
    hand.drag([700, 1800], [720, 1850]).expectUndoCount(2)
    expect(only(hand.plan().hatches).outline[2]).toEqual({ x: 720, y: 1850 })
    hand.key('ArrowRight')
    expect(only(hand.plan().hatches).outline[0]?.x).toBeCloseTo(100 + 25.4 / 16, 6)
  })
})

describe('a portal', () => {
  it('is set on the track under the pointer, as wide as half its track centres to each side', () => {
    const hand = toolHarness(room, 'portal').holding({ alt: true }).click(700, 1004).expectUndoCount(1).expectTool('select')
    const made = only(hand.plan().portals)
    expect(made).toMatchObject({ track: 'track-1', stationMm: 700 })
    expect(made.leftMm).toBeCloseTo((room.lineClasses['main']?.trackCentresMm ?? 0) / 2, 1)
    // 22 ft over the rail in 1:87.1, to a tenth.
    expect(made.heightMm).toBe(77)
    toolHarness(room, 'portal').click(700, 500).expectHint('noTrackForPortal').expectUndoCount(0)
  })

  it('slides along its track, never beyond its ends', () => {
    const plan = { ...room, portals: { [portal.id]: portal } }
    const hand = toolHarness(plan).select({ kind: 'record', table: 'portals', id: portal.id }).holding({ alt: true })
    hand.drag([650, 1030], [850, 1030])
    expect(only(hand.plan().portals).stationMm).toBeCloseTo(800, 6)
    hand.drag([850, 1030], [9000, 1030])
    // The hand took hold 50 mm behind its face, and the track ends at 2000.
    expect(only(hand.plan().portals).stationMm).toBeCloseTo(1950, 6)
    hand.holding({ shift: true })
    for (let i = 0; i < 5; i++) hand.key('ArrowRight')
    expect(only(hand.plan().portals).stationMm).toBe(2000)
  })
})
