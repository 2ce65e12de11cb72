import { describe, expect, it } from 'vitest'
import { networkCreateDeriver } from '../../../src/core/network/index.ts'
import type { Network, NetworkCrossing } from '../../../src/core/network/index.ts'
import type { Plan } from '../../../src/core/plan/index.ts'
import { aCorner, aCrossing, aTrack, planAfter, planWith } from '../../support/plans.ts'

const networkOf = (plan: Plan): Network => networkCreateDeriver()(plan)

function only(plan: Plan): NetworkCrossing {
  const { crossings } = networkOf(plan)
  const [crossing, more] = crossings.values()
  if (!crossing || more) throw new Error(`${crossings.size} crossings`)
  return crossing
}

/** Main along +x through (1000, 0); a second track through the same place, turned by so much. */
function crossed(angleRad: number, change: Parameters<typeof planWith>[0] = {}): Plan {
  const [dx, dy] = [800 * Math.cos(angleRad), 800 * Math.sin(angleRad)]
  const across = aTrack({
    id: 'track-2',
    start: { kind: 'free', x: 1000 - dx, y: -dy },
    end: { kind: 'free', x: 1000 + dx, y: dy },
  })
  return planWith({ tracks: [aTrack(), across], ...change })
}

describe('a place where two tracks cross', () => {
  it('is found, with its stations, its frame and what can be built there', () => {
    const crossing = only(crossed(Math.PI / 6))
    expect(crossing).toMatchObject({ id: 'track-1:track-2:1', record: null, track: 'track-1', other: 'track-2', isOtherReversed: false })
    expect(crossing.stationMm).toBeCloseTo(1000, 6)
    expect(crossing.otherStationMm).toBeCloseTo(800, 6)
    expect(crossing.pose.x).toBeCloseTo(1000, 6)
    expect(crossing.result.ok && crossing.result.crossing.angleRad).toBeCloseTo(Math.PI / 6, 9)
    expect(networkOf(crossed(Math.PI / 6)).crossingsOn.get('track-2')).toHaveLength(1)
  })

  it('has its second track run through the other way where that turns less', () => {
    const crossing = only(crossed((5 * Math.PI) / 6))
    expect(crossing.isOtherReversed).toBe(true)
    expect(crossing.result.ok && crossing.result.crossing.angleRad).toBeCloseTo(Math.PI / 6, 9)
  })

  it('is none where a track ends on another, and none where two meet as flat as a long turnout', () => {
    const ends = aTrack({ id: 'track-2', start: { kind: 'free', x: 1000, y: 0 }, end: { kind: 'free', x: 1000, y: 700 } })
    expect(networkOf(planWith({ tracks: [aTrack(), ends] })).crossings.size).toBe(0)
    expect(networkOf(crossed(0.04)).crossings.size).toBe(0)
    expect(networkOf(crossed(0.06)).crossings.size).toBe(1)
  })

  it('has what the builder chose for it, whichever of its tracks he called the first', () => {
    const chosen = aCrossing({ slip: 'double', stationMm: 990, otherStationMm: 810 })
    const angle = 2 * Math.atan(1 / 16)
    const crossing = only(crossed(angle, { crossings: [chosen] }))
    expect(crossing).toMatchObject({ id: 'crossing-1', record: chosen, track: 'track-1' })
    expect(crossing.result.ok && crossing.result.crossing.slips).toHaveLength(2)
    const other = aCrossing({ track: 'track-2', other: 'track-1', slip: 'single-left', stationMm: 810, otherStationMm: 990 })
    const swapped = only(crossed(angle, { crossings: [other] }))
    expect(swapped).toMatchObject({ track: 'track-2', other: 'track-1' })
    expect(swapped.stationMm).toBeCloseTo(800, 6)
    expect(swapped.pose.headingRad).toBeCloseTo(angle, 9)
  })

  it('of two the nearer one is meant', () => {
    const there = aCorner({ x: 1000, y: 700, radius: 'class', easementIn: 0, easementOut: 0 })
    const bent = aTrack({
      id: 'track-2',
      start: { kind: 'free', x: 0, y: -700 },
      corners: [there],
      end: { kind: 'free', x: 2000, y: -700 },
    })
    const of = (stationMm: number): readonly string[] => [
      ...networkOf(
        planWith({ tracks: [aTrack(), bent], crossings: [aCrossing({ stationMm, otherStationMm: stationMm })] }),
      ).crossings.keys(),
    ]
    expect(of(100)).toEqual(['crossing-1', 'track-1:track-2:2'])
    expect(of(1900)).toEqual(['track-1:track-2:1', 'crossing-1'])
  })

  it('is solved again only when its tracks meet or bend otherwise', () => {
    const derive = networkCreateDeriver()
    const plan = crossed(Math.PI / 6)
    const before = derive(plan).crossings.get('track-1:track-2:1')
    const longer = derive(planAfter(plan, { kind: 'track.setEnd', id: 'track-1', end: { kind: 'free', x: 2600, y: 0 } }))
    expect(longer.crossings.get('track-1:track-2:1')).toBe(before)
    const steeper = derive(planAfter(plan, { kind: 'track.setEnd', id: 'track-2', end: { kind: 'free', x: 1500, y: 400 } }))
    expect(steeper.crossings.get('track-1:track-2:1')?.result).not.toBe(before?.result)
  })

  it('says why nothing can be built where a track ends inside', () => {
    const short = aTrack({ id: 'track-2', start: { kind: 'free', x: 990, y: -10 }, end: { kind: 'free', x: 1400, y: 400 } })
    const { result } = only(planWith({ tracks: [aTrack(), short] }))
    expect(result).toMatchObject({ ok: false, problem: { kind: 'trackTooShort', track: 'second' } })
  })
})
