import { describe, expect, it } from 'vitest'
import { readingMeasure } from '../../src/core/readings/index.ts'
import type { Plan, ReadingOf } from '../../src/core/plan/types.ts'
import { measuredText } from '../../src/words/readingText.ts'
import { aCorner, aTrack, planWith } from '../support/plans.ts'
import { only, toolHarness } from '../support/toolHarness.ts'

/** A quarter of 900 mm without easements from (1100, 0) to (2000, 900), and a straight beside its first tangent. */
const plan: Plan = planWith({
  tracks: [
    aTrack({
      corners: [aCorner({ x: 2000, y: 0, radius: 900, easementIn: 0, easementOut: 0 })],
      end: { kind: 'free', x: 2000, y: 2000 },
    }),
    aTrack({ id: 'track-2', name: 'Second', start: { kind: 'free', x: 0, y: 60 }, end: { kind: 'free', x: 1000, y: 60 } }),
  ],
})

const measuring = (of: ReadingOf['kind']) => toolHarness(plan, 'measure', 'metric').option({ kind: 'measure', of })

describe('measuring', () => {
  it('a distance takes two places, pointed at or typed; Enter pins it, undo takes it off', () => {
    const hand = measuring('distance').holding({ alt: true }).click(500, 900).click(800, 1300).enter().expectUndoCount(1)
    expect(only(hand.plan().readings).of).toEqual({ kind: 'distance', from: { x: 500, y: 900 }, to: { x: 800, y: 1300 } })
    const of = only(hand.plan().readings).of
    const measured = readingMeasure(of, hand.network())
    expect(measured).toMatchObject({ kind: 'length', mm: 500 })
    // 500 mm are 19.685 in: 1 ft 7 11/16 in to the sixteenth.
    expect(measuredText(measured, { units: 'imperial', fraction: 16 })).toBe('1′ 7¹¹⁄₁₆″')
    expect(measuredText(measured, { units: 'metric', fraction: 16 })).toBe('500 mm')
    hand.type('100; 100').type('250<0').enter().expectUndoCount(2)
    expect(hand.plan().readings['reading-2']?.of).toEqual({ kind: 'distance', from: { x: 100, y: 100 }, to: { x: 350, y: 100 } })
    hand.undo().undo()
    expect(hand.plan()).toEqual(plan)
  })

  it('nothing is in the plan before it is pinned', () => {
    const hand = measuring('distance').click(500, 900).click(800, 1300).expectUndoCount(0)
    expect(hand.sketch()).toContainEqual(expect.objectContaining({ kind: 'reading' }))
    hand.escape().expectTool('measure').escape().expectTool('select')
    expect(hand.plan()).toBe(plan)
  })

  it('an angle lies between two arms, whatever their lengths', () => {
    const hand = measuring('angle').holding({ alt: true }).click(100, 900).click(300, 900).click(200, 1000).enter()
    const measured = readingMeasure(only(hand.plan().readings).of, hand.network())
    expect(measured.kind === 'angle' && Math.abs(measured.rad - Math.PI / 4) < 1e-12).toBe(true)
  })

  it('along a track it goes round the curve: a quarter of 900 mm radius is 450 pi', () => {
    const hand = measuring('along').click(1100, 0).click(2000, 900).enter()
    const measured = readingMeasure(only(hand.plan().readings).of, hand.network())
    expect(measured.kind === 'length' && Math.abs(measured.mm - 450 * Math.PI) < 1e-6).toBe(true)
  })

  it('along a track by typed stations', () => {
    const hand = measuring('along').pointerMove(500, 0).type('300').type('450').enter()
    expect(only(hand.plan().readings).of).toEqual({ kind: 'along', track: 'track-1', fromMm: 300, toMm: 750 })
    hand.type('99999').expectHint('beyondTrack')
  })

  it('the radius at a place, and straight where it is straight', () => {
    const hand = measuring('radius')
      .click(2000 - 900 + 900 * Math.SQRT1_2, 900 - 900 * Math.SQRT1_2)
      .enter()
    const measured = readingMeasure(only(hand.plan().readings).of, hand.network())
    expect(measured.kind === 'radius' && Math.abs((measured.radiusMm ?? 0) - 900) < 1e-9).toBe(true)
    const straight = readingMeasure({ kind: 'radius', track: 'track-1', stationMm: 200 }, hand.network())
    expect(measuredText(straight, { units: 'imperial', fraction: 64 })).toBe('straight')
  })

  it('between tracks it goes to the nearest place of the other; the same one again is refused', () => {
    const hand = measuring('centres').click(700, 0).click(300, 0).expectHint('measure').click(200, 60).enter()
    expect(readingMeasure(only(hand.plan().readings).of, hand.network())).toMatchObject({ kind: 'between', centresMm: 60 })
  })

  it('between tracks it tells in either rule what cars leave free, or by how much they overlap', () => {
    const line = [
      { x: 0, y: 0 },
      { x: 0, y: 60 },
    ]
    const text = (clearMm: number | null, units: 'imperial' | 'metric') =>
      measuredText({ kind: 'between', centresMm: 50.8, clearMm, line }, { units, fraction: 16 })
    expect(text(12.7, 'imperial')).toBe('2″ · ½ in clear')
    expect(text(12.7, 'metric')).toBe('50.8 mm · 12.7 mm clear')
    expect(text(-12.7, 'imperial')).toBe('2″ · cars overlap by ½ in')
    expect(text(null, 'metric')).toBe('50.8 mm')
  })

  it('a figure follows the plan, and is none where there is nothing any more', () => {
    const of: ReadingOf = { kind: 'radius', track: 'track-1', stationMm: 99_999 }
    expect(readingMeasure(of, toolHarness(plan).network())).toEqual({ kind: 'unknown' })
    expect(
      readingMeasure({ kind: 'angle', at: { x: 1, y: 1 }, from: { x: 1, y: 1 }, to: { x: 2, y: 2 } }, toolHarness(plan).network()),
    ).toEqual({
      kind: 'unknown',
    })
  })
})

describe('guides', () => {
  it('stay, and draw what is set near them; where two cross, both', () => {
    const hand = toolHarness(plan, 'guide', 'metric').holding({ alt: true }).click(3000, 400).click(3100, 400).take('guide')
    hand.click(3333, 0).click(3333, 50).expectUndoCount(2).holding({}).take('joist')
    hand.pointerMove(3500, 403)
    expect(hand.sketch()).toContainEqual(
      expect.objectContaining({ kind: 'snap', snap: expect.objectContaining({ kind: 'guide' }) as unknown }),
    )
    hand.pointerMove(3330, 404)
    expect(hand.sketch()).toContainEqual(
      expect.objectContaining({ snap: expect.objectContaining({ kind: 'guidesCross', point: { x: 3333, y: 400 } }) as unknown }),
    )
  })

  it('are taken hold of, moved and taken out like other things', () => {
    const hand = toolHarness(plan, 'guide', 'metric').holding({ alt: true }).click(3000, 400).click(3100, 400)
    hand.expectTool('select').expectUndoCount(1)
    hand
      .holding({})
      .drag([3200, 400], [3200, 430])
      .expectPlan(({ guides }) => expect(guides['guide-1']?.at).toEqual({ x: 3000, y: 430 }))
    hand
      .select({ kind: 'record', table: 'guides', id: 'guide-1' })
      .key('Delete')
      .expectPlan(({ guides }) => expect(guides).toEqual({}))
  })
})
