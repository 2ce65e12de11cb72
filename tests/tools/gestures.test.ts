import { describe, expect, it } from 'vitest'
import type { Plan } from '../../src/core/plan/types.ts'
import type { Selection } from '../../src/store/types.ts'
import { aBend, aBenchwork, aTrack, aTurnout, planWith } from '../support/plans.ts'
import { only, toolHarness } from '../support/toolHarness.ts'

const square = (x: number, y: number, side: number) => [
  { x, y },
  { x: x + side, y },
  { x: x + side, y: y + side },
  { x, y: y + side },
]

/** One of each thing that can be dragged, far from each other. */
const plan: Plan = {
  ...planWith({
    tracks: [aBend(), aTrack({ start: { kind: 'free', x: 0, y: 5000 }, end: { kind: 'free', x: 2000, y: 5000 } })],
    turnouts: [aTurnout({ stationMm: 800 })],
    benchworks: [aBenchwork({ outline: square(0, 10_000, 2000) })],
    walls: [
      {
        id: 'wall-1',
        name: 'North',
        points: [
          { x: 0, y: 20_000 },
          { x: 4000, y: 20_000 },
        ],
        thicknessMm: 100,
        isClosed: false,
      },
    ],
  }),
  openings: {
    'opening-1': { id: 'opening-1', name: 'Door', wall: 'wall-1', fromMm: 1000, widthMm: 800, leaf: null, sillMm: null },
  },
  obstacles: { 'obstacle-1': { id: 'obstacle-1', name: 'Post', outline: square(0, 30_000, 200), undersideMm: 0 } },
  hatches: { 'hatch-1': { id: 'hatch-1', name: 'Hatch', outline: square(500, 10_500, 600) } },
  joists: { 'joist-1': { id: 'joist-1', name: 'Riser', from: { x: 0, y: 40_000 }, to: { x: 1000, y: 40_000 }, widthMm: 40 } },
  portals: {
    'portal-1': { id: 'portal-1', name: 'Bore', track: 'track-1', stationMm: 300, leftMm: 60, rightMm: 60, lengthMm: 100, heightMm: 77 },
  },
  guides: { 'guide-1': { id: 'guide-1', name: 'Guide', at: { x: 0, y: 50_000 }, angleRad: 0 } },
}

const record = (table: Extract<Selection, { kind: 'record' }>['table'], id: string): Selection => ({ kind: 'record', table, id })

/** Where each is taken hold of, once it is selected. */
const held: readonly (readonly [what: string, selected: Selection, x: number, y: number])[] = [
  ['a PI', { kind: 'corner', track: 'bend', corner: 'c1' }, 2000, 0],
  ['the end of a track', { kind: 'trackEnd', track: 'bend', end: 'start' }, 0, 0],
  ['a track', record('tracks', 'bend'), 500, 0],
  ['a turnout', record('turnouts', 'turnout-1'), 830, 5000],
  ['a corner of benchwork', { kind: 'ringPoint', benchwork: 'benchwork-1', ring: -1, index: 2 }, 2000, 12_000],
  ['benchwork', record('benchworks', 'benchwork-1'), 1800, 10_200],
  ['a corner of a hatch', record('hatches', 'hatch-1'), 500, 10_500],
  ['a hatch', record('hatches', 'hatch-1'), 800, 10_800],
  ['a wall', record('walls', 'wall-1'), 3000, 20_000],
  ['an opening', record('openings', 'opening-1'), 1400, 20_000],
  ['a post', record('obstacles', 'obstacle-1'), 100, 30_100],
  ['the end of a joist', record('joists', 'joist-1'), 0, 40_000],
  ['a joist', record('joists', 'joist-1'), 500, 40_000],
  ['a portal', record('portals', 'portal-1'), 330, 5060],
  ['a guide', record('guides', 'guide-1'), 300, 50_000],
]

describe.each(held)('a drag of %s', (_, selected, x, y) => {
  const dragged = () =>
    toolHarness(plan, 'select', 'metric')
      .select(selected)
      .holding({ alt: true })
      .pointerDown(x, y)
      .pointerMove(x + 20, y)
      .pointerMove(x + 60, y + 30)

  it('changes the plan, and Escape puts all back', () => {
    const hand = dragged()
    expect(hand.plan()).not.toEqual(plan)
    hand.escape().expectNoTransaction().expectUndoCount(0)
    expect(hand.plan()).toEqual(plan)
    // Letting go afterwards does nothing more.
    hand.pointerUp(x + 60, y + 30).expectUndoCount(0)
    expect(hand.plan()).toEqual(plan)
  })

  it('takes a typed measure meanwhile, as one step', () => {
    const hand = dragged().type('24')
    hand.expectNoTransaction().expectUndoCount(1)
    const typed = hand.plan()
    expect(typed).not.toEqual(plan)
    hand.undo()
    expect(hand.plan()).toEqual(plan)
  })
})

describe('a typed step along', () => {
  it('moves a portal by its station, a door along its wall, either way', () => {
    const portal = toolHarness(plan, 'select', 'metric').select(record('portals', 'portal-1')).type('50').type('-20')
    expect(only(portal.plan().portals).stationMm).toBeCloseTo(330, 9)
    const door = toolHarness(plan, 'select', 'metric').select(record('openings', 'opening-1')).type('-300')
    expect(only(door.plan().openings).fromMm).toBeCloseTo(700, 9)
  })
})

describe('a typed radius', () => {
  const radii = (on: Plan): readonly unknown[] => only(on.tracks).corners.map(({ radius }) => radius)

  it('behind the place of a PI is of that PI; alone, of the last one', () => {
    const hand = toolHarness(planWith(), 'track', 'metric').click(0, 0).type('2000<0 r900').type('2000<90').type('r 800mm').type('2000<180')
    hand.enter().expectUndoCount(1)
    expect(radii(hand.plan())).toEqual([900, 800])
  })

  it('is refused where no PI is to have it, and where it is no length', () => {
    const hand = toolHarness(planWith(), 'track', 'metric').click(0, 0).type('r900')
    expect(hand.hint()).toEqual({ kind: 'entry', refusal: { kind: 'noCorner' } })
    hand.type('2000<0 r0')
    expect(hand.hint()).toMatchObject({ kind: 'entry', refusal: { kind: 'notPositive' } })
    hand.type('2000<0 r9x')
    expect(hand.hint()).toMatchObject({ kind: 'entry', refusal: { kind: 'length' } })
  })

  it('of a corner that turns too little for it is told, and not put in place by another', () => {
    const hand = toolHarness(planWith(), 'track', 'metric').click(0, 0).type('2000<0 r900').type('2000<2').enter()
    expect(radii(hand.plan())).toEqual([900])
    expect(hand.network().tracks.get(only(hand.plan().tracks).id)?.alignment.ok).toBe(false)
  })

  it('of a selected PI leaves it where it is; while it is dragged, where the hand is', () => {
    const pi: Selection = { kind: 'corner', track: 'bend', corner: 'c1' }
    const at = (on: Plan) => on.tracks['bend']?.corners[0]
    const still = toolHarness(plan, 'select', 'imperial').select(pi).type('r36in').expectUndoCount(1)
    expect(at(still.plan())).toEqual({ ...at(plan), radius: 914.4 })
    const hand = toolHarness(plan, 'select', 'metric').select(pi).holding({ alt: true })
    hand.pointerDown(2000, 0).pointerMove(2020, 0).pointerMove(2060, 0).type('r 950').expectUndoCount(1)
    expect(at(hand.plan())).toMatchObject({ x: 2060, y: 0, radius: 950 })
    const both = toolHarness(plan, 'select', 'metric').select(pi).type('@10; 20 r 950').expectUndoCount(1)
    expect(at(both.plan())).toMatchObject({ x: 2010, y: 20, radius: 950 })
  })
})
