import { describe, expect, it } from 'vitest'
import type { Facing, Hand } from '../../src/core/plan/types.ts'
import { aCorner, aTrack, planWith } from '../support/plans.ts'
import { only, toolHarness } from '../support/toolHarness.ts'

const straight = planWith({ tracks: [aTrack({ end: { kind: 'free', x: 3000, y: 0 } })] })

describe('setting turnouts', () => {
  const cases: readonly (readonly [Hand, Facing, (leg: { x: number; y: number }) => boolean])[] = [
    // The track runs to +x. Facing rising, the points are met coming from -x: left is +y, the leg lies ahead.
    ['left', 'rising', (leg) => leg.x > 1500 && leg.y > 0],
    ['right', 'rising', (leg) => leg.x > 1500 && leg.y < 0],
    // Facing falling they are met coming from +x: left is -y, the leg lies towards -x.
    ['left', 'falling', (leg) => leg.x < 1500 && leg.y < 0],
    ['right', 'falling', (leg) => leg.x < 1500 && leg.y > 0],
  ]
  it.each(cases)('%s, facing %s', (hand, facing, isThere) => {
    const tool = toolHarness(straight, 'turnout')
    if (hand === 'right') tool.key('h')
    if (facing === 'falling') tool.key('F')
    tool.click(1500, 4).expectUndoCount(1).expectTool('select')
    const turnout = only(tool.plan().turnouts)
    expect(turnout).toMatchObject({ hand, facing, track: 'track-1', frog: straight.lineClasses['main']?.usualFrog })
    expect(tool.selection()).toEqual({ kind: 'record', table: 'turnouts', id: 'turnout-1' })
    const result = tool.network().turnouts.get('turnout-1')?.result
    expect(result?.ok === true && isThere(result.leg)).toBe(true)
  })

  it('takes a typed frog number, fractions too, and refuses what no room holds', () => {
    const hand = toolHarness(straight, 'turnout').pointerMove(1500, 0)
    hand.type('5 1/2').click(1500, 0)
    expect(only(hand.plan().turnouts).frog).toBe(5.5)
    hand.take('turnout').type('3').expectHint('outOfRange').type('21').expectHint('outOfRange').type('six').expectHint('entry')
  })

  it('is drawn on to the straight when it would run off its end', () => {
    const hand = toolHarness(straight, 'turnout').click(2990, 0).expectUndoCount(1)
    const turnout = only(hand.plan().turnouts)
    expect(turnout.stationMm).toBeLessThan(2800)
    expect(hand.network().turnouts.get(turnout.id)?.result.ok).toBe(true)
  })

  const arcOf = (radius: number) =>
    planWith({
      tracks: [
        aTrack({
          corners: [aCorner({ x: 1200, y: 0, radius, easementIn: 0, easementOut: 0 })],
          end: { kind: 'free', x: 1200, y: 1200 },
        }),
      ],
    })
  /** The middle of a 90 degree arc that ends tangent at x 1200. */
  const middleOf = (radius: number) => ({ x: 1200 - radius + radius * Math.sin(Math.PI / 4), y: radius * (1 - Math.cos(Math.PI / 4)) })

  it('goes on a curve, and bends with it', () => {
    const hand = toolHarness(arcOf(900), 'turnout')
    const { x, y } = middleOf(900)
    hand.click(x, y).expectUndoCount(1)
    const [placed] = hand.network().turnouts.values()
    expect(placed?.result.ok).toBe(true)
    expect(placed?.result.geometry?.request.host).not.toBeNull()
  })

  it('does not go on a curve too sharp for its frog, and says so', () => {
    const hand = toolHarness(arcOf(130), 'turnout')
    const { x, y } = middleOf(130)
    hand.click(x, y).expectHint('turnoutDoesNotFit').expectUndoCount(0).expectTool('turnout')
  })

  it('of another kind, by its key or from the strip', () => {
    const hand = toolHarness(straight, 'turnout')
    hand.key('k').key('k').click(1500, 4).expectUndoCount(1)
    const { kind } = only(hand.plan().turnouts)
    if (kind.kind !== 'three-way') throw new Error(kind.kind)
    expect(kind.secondFrog).toBe(straight.lineClasses['main']?.usualFrog)
    const [placed] = hand.network().turnouts.values()
    expect(placed?.result.ok === true && placed.result.legs.map(({ leg }) => leg).toSorted()).toEqual(['diverging', 'other'])
  })

  it('a wye stands at the end that it faces, wherever on its track it is pointed at', () => {
    for (const [facing, stationMm] of [
      ['rising', 3000],
      ['falling', 0],
    ] as const) {
      const hand = toolHarness(straight, 'turnout')
      hand.send({ kind: 'option', change: { kind: 'kind', of: 'wye' } })
      hand.send({ kind: 'option', change: { kind: 'facing', facing } })
      hand.click(1500, 4).expectUndoCount(1)
      expect(only(hand.plan().turnouts)).toMatchObject({ stationMm, kind: { kind: 'wye' } })
      const [placed] = hand.network().turnouts.values()
      expect(placed?.result.ok).toBe(true)
    }
  })

  it('needs a track beneath it', () => {
    toolHarness(straight, 'turnout').click(1500, 400).expectHint('noTrackHere').expectUndoCount(0)
  })

  it('shows the turnout before it is set, and where along the track', () => {
    const hand = toolHarness(straight, 'turnout').pointerMove(1500, 3)
    expect(hand.sketch().map(({ kind }) => kind)).toEqual(['turnout'])
    // 1500 mm to the nearest quarter inch.
    expect(hand.hover()).toEqual({ track: 'track-1', stationMm: 236 * 6.35 })
    hand.pointerLeave()
    expect(hand.sketch()).toEqual([])
    expect(hand.hover()).toBeNull()
  })
})
