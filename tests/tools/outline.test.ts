import { describe, expect, it } from 'vitest'
import type { Benchwork } from '../../src/core/plan/types.ts'
import { planWith } from '../support/plans.ts'
import { only, toolHarness } from '../support/toolHarness.ts'

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
/** Whole inches as the decimals they are. */
const inches = (count: number): number => Math.round(count * 254) / 10

describe('benchwork by clicks', () => {
  it('draws a rectangle, square although the hand is not, and closes it on the first point', () => {
    const hand = toolHarness(undefined, 'benchwork')
    // A few millimetres off everywhere: whole quarter inches, level sides and the line up to the first point put it right.
    hand.click(2, -1).expectState('drawing')
    hand.click(609, 3).click(612, 304).click(4, 306)
    hand.click(1, 2).expectState('idle').expectUndoCount(1).expectTool('select')
    const { outline, holes, name } = only(hand.plan().benchworks)
    expect(outline).toEqual([
      { x: 0, y: 0 },
      { x: inches(24), y: 0 },
      { x: inches(24), y: inches(12) },
      { x: 0, y: inches(12) },
    ])
    expect(holes).toEqual([])
    expect(name).toBe('Benchwork 1')
    expect(hand.selection()).toEqual({ kind: 'record', table: 'benchworks', id: 'benchwork-1' })
    hand.undo().expectPlan((plan) => expect(plan.benchworks).toEqual({}))
    hand.redo().expectPlan((plan) => expect(only(plan.benchworks).outline).toHaveLength(4))
  })

  it('closes on Enter and on a double click, which sets no second point', () => {
    const byEnter = toolHarness(undefined, 'benchwork').click(0, 0).click(500, 0).click(500, 300).enter()
    expect(only(byEnter.plan().benchworks).outline).toHaveLength(3)
    const byDouble = toolHarness(undefined, 'benchwork').click(0, 0).click(500, 0).doubleClick(500, 300)
    expect(only(byDouble.plan().benchworks).outline).toHaveLength(3)
  })

  it('takes back the last point, and asks for a third one before it can close', () => {
    const hand = toolHarness(undefined, 'benchwork').click(0, 0).click(500, 0).click(500, 300)
    hand.key('Backspace').enter().expectState('drawing').expectHint('needPoints').expectUndoCount(0)
    hand.key('Backspace').key('Backspace').expectState('idle')
  })

  it('is given up by Escape and leaves the very same plan', () => {
    const hand = toolHarness(undefined, 'benchwork')
    const before = hand.plan()
    hand.click(0, 0).click(500, 0).click(500, 300).escape().expectState('idle').expectTool('benchwork')
    expect(hand.plan()).toBe(before)
    hand.escape().expectTool('select')
  })

  it('keeps to 45 degrees while Shift is held and goes where the pointer is while Alt is', () => {
    const held = toolHarness(undefined, 'benchwork').click(0, 0).holding({ shift: true }).click(400, 130).holding({}).click(0, 500).enter()
    expect(only(held.plan().benchworks).outline[1]?.y).toBe(0)
    const free = toolHarness(undefined, 'benchwork').holding({ alt: true }).click(0.3, 0.7).click(400.1, 3.3).click(10.9, 300.4).enter()
    expect(only(free.plan().benchworks).outline).toEqual([
      { x: 0.3, y: 0.7 },
      { x: 400.1, y: 3.3 },
      { x: 10.9, y: 300.4 },
    ])
  })
})

describe('benchwork by typing', () => {
  it('draws a rectangle of exact inches that comes back to its first point', () => {
    const hand = toolHarness(undefined, 'benchwork')
    hand.type('0;0').type('8 ft<0').type("2'<90").type('8 ft<180').type('24in<270').expectState('idle').expectUndoCount(1)
    // Products of 25.4 are exact to the last digit here; a billionth of a millimetre stands for rounding.
    const { outline } = only(hand.plan().benchworks)
    const expected = [
      [0, 0],
      [2438.4, 0],
      [2438.4, 609.6],
      [0, 609.6],
    ]
    expect(outline).toHaveLength(4)
    outline.forEach((point, i) => {
      expect(Math.abs(point.x - (expected[i]?.[0] ?? NaN))).toBeLessThan(1e-9)
      expect(Math.abs(point.y - (expected[i]?.[1] ?? NaN))).toBeLessThan(1e-9)
    })
  })

  it('takes a bare length in the direction that the pointer shows, in the units of the person', () => {
    const imperial = toolHarness(undefined, 'benchwork').click(0, 0).pointerMove(300, 2).type('24').click(600, 300).enter()
    expect(only(imperial.plan().benchworks).outline[1]).toEqual({ x: inches(24), y: 0 })
    const metric = toolHarness(undefined, 'benchwork', 'metric').click(0, 0).pointerMove(300, 2).type('800').click(600, 300).enter()
    expect(only(metric.plan().benchworks).outline[1]).toEqual({ x: 800, y: 0 })
  })

  it('says what is wrong with an entry and keeps the field and the points', () => {
    const hand = toolHarness(undefined, 'benchwork').click(0, 0).pointerMove(300, 0)
    hand.type('24 furlongs').expectHint('entry').expectState('drawing')
    expect(hand.entry()).toBe('24 furlongs')
    hand.type('24in<round').expectHint('entry')
    hand.type('24in<0').expectHint(null)
    expect(hand.entry()).toBeNull()
  })

  it('cannot measure a first point from nothing', () => {
    toolHarness(undefined, 'benchwork').type('24in').expectHint('entry').expectState('idle')
  })
})

describe('a hole', () => {
  it('is cut where its first corner lies', () => {
    const hand = toolHarness(planWith({ benchworks: [board] }), 'hole')
    hand.click(300, 200).click(500, 200).click(500, 400).click(300, 400).click(300, 200)
    hand.expectUndoCount(1)
    expect(only(hand.plan().benchworks).holes).toHaveLength(1)
    expect(only(hand.plan().benchworks).holes[0]).toHaveLength(4)
  })

  it('is refused beside the benchwork', () => {
    const hand = toolHarness(planWith({ benchworks: [board] }), 'hole')
    hand.click(1500, 200).expectHint('outsideBenchwork').expectState('idle').expectUndoCount(0)
  })
})

describe('a wall', () => {
  it('may end anywhere', () => {
    const hand = toolHarness(undefined, 'wall').click(0, 0).click(3000, 0).doubleClick(3000, 2500)
    expect(only(hand.plan().walls)).toMatchObject({ isClosed: false, name: 'Wall 1' })
    expect(only(hand.plan().walls).points).toHaveLength(3)
  })

  it('closes around the room', () => {
    const hand = toolHarness(undefined, 'wall').click(0, 0).click(3000, 0).click(3000, 2500).click(0, 2500).click(0, 0)
    expect(only(hand.plan().walls)).toMatchObject({ isClosed: true })
  })
})

describe('benchwork is drawn to what stands there', () => {
  /** A wall a little out of square on the left, and a board 600 deep in the room. */
  const wall = {
    id: 'wall-1',
    name: 'Room 1',
    points: [
      { x: 0, y: 3000 },
      { x: 0, y: 0 },
      { x: 4000, y: 40 },
      { x: 4000, y: 3000 },
    ],
    isClosed: false,
    thicknessMm: 100,
  }
  const shelf: Benchwork = {
    ...board,
    outline: [
      { x: 2000, y: 1000 },
      { x: 3000, y: 1000 },
      { x: 3000, y: 1600 },
      { x: 2000, y: 1600 },
    ],
  }
  const plan = { ...planWith({ benchworks: [shelf] }), walls: { 'wall-1': wall } }
  const handOn = () => toolHarness(plan, 'benchwork', 'metric')
  const snapOf = (hand: ReturnType<typeof handOn>) => hand.sketch().flatMap((item) => (item.kind === 'snap' ? [item.snap] : []))[0]

  it('to a corner of the room and along a wall that is out of square, by whole measures', () => {
    const hand = handOn().click(3, 4).pointerMove(1203, 15)
    const snap = snapOf(hand)
    expect(snap?.kind).toBe('alongWall')
    const { x, y } = snap?.point ?? { x: 0, y: 0 }
    expect(y / x).toBeCloseTo(40 / 4000, 9)
    expect(Math.hypot(x, y) % 5).toBeCloseTo(0, 6)
  })

  it('in line with its first corner up to the wall, though a whole measure lies as near', () => {
    // The wall passes 10.3 below (1030, 505), 494.7 away; whole measures of 5 mm would end at 495.
    const hand = handOn().click(1030, 505).pointerMove(1033, 14)
    const { kind, point } = snapOf(hand) ?? {}
    expect({ kind, point }).toEqual({ kind: 'wallMet', point: { x: 1030, y: expect.closeTo(10.3, 9) } })
  })

  it('up to another piece, and in line with its corners', () => {
    const met = handOn().click(2500, 300).pointerMove(2504, 995)
    expect(snapOf(met)).toMatchObject({ kind: 'edgeMet', point: { y: expect.closeTo(1000, 9) } })
    const inLine = handOn().pointerMove(2004, 502)
    expect(snapOf(inLine)).toMatchObject({ kind: 'lineUpAcross', point: { x: 2000, y: 500 } })
  })

  it('on a wall by whole measures from its corner', () => {
    const { kind, point } = snapOf(handOn().pointerMove(6, 1203)) ?? {}
    expect({ kind, point }).toMatchObject({ kind: 'wallEdge', point: { x: 0 } })
    expect((point?.y ?? 1) % 5).toBeCloseTo(0, 9)
  })

  it('and to nothing of it while Alt is held', () => {
    expect(snapOf(handOn().click(1030, 505).holding({ alt: true }).pointerMove(1033, 14))).toBeUndefined()
  })
})
