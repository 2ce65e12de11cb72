import { describe, expect, it } from 'vitest'
import { turnoutSwap } from '../../../src/core/makers/index.ts'
import type { TurnoutSwap } from '../../../src/core/makers/swap.ts'
import type { Plan } from '../../../src/core/plan/index.ts'
import { networkOf } from '../../support/makers.ts'
import { aCorner, aTrack, aTurnout, planAfter, planWith } from '../../support/plans.ts'

/** A main with a spur from a left-hand turnout, bent back beside it, and a stub from a second turnout on the spur. */
const plan = planWith({
  tracks: [
    aTrack({ end: { kind: 'free', x: 3000, y: 0 } }),
    aTrack({
      id: 'spur',
      start: { kind: 'leg', turnout: 'turnout-1', leg: 'diverging' },
      corners: [aCorner({ id: 'c1', x: 1400, y: 60, easementIn: 0, easementOut: 0 })],
      end: { kind: 'free', x: 2800, y: 60 },
    }),
    aTrack({ id: 'stub', start: { kind: 'leg', turnout: 'turnout-2', leg: 'diverging' }, end: { kind: 'free', x: 2800, y: 120 } }),
  ],
  turnouts: [
    aTurnout({ id: 'turnout-1', track: 'track-1', stationMm: 1000, hand: 'left', facing: 'rising', frog: 6 }),
    aTurnout({ id: 'turnout-2', name: 'Second', track: 'spur', stationMm: 600, hand: 'left', facing: 'rising', frog: 6 }),
  ],
})

const swapped = (from: Plan, change: TurnoutSwap): Plan => planAfter(from, turnoutSwap(from, networkOf(from), 'turnout-1', change))

function ends(at: Plan): readonly (readonly [number, number])[] {
  const { tracks } = networkOf(at)
  return ['spur', 'stub'].map((id) => {
    const alignment = tracks.get(id)?.alignment
    if (alignment?.ok !== true) throw new Error(`${id} is not solved`)
    const { x, y } = alignment.path.end
    return [x, y]
  })
}

describe('a turnout turned with what hangs on it', () => {
  it('to the other hand: all of it in the mirror of its track', () => {
    const other = swapped(plan, { hand: 'right' })
    expect(other.turnouts['turnout-1']?.hand).toBe('right')
    expect(other.turnouts['turnout-2']?.hand).toBe('right')
    ends(plan).forEach(([x, y], i) => {
      expect(ends(other)[i]?.[0]).toBeCloseTo(x, 6)
      expect(ends(other)[i]?.[1]).toBeCloseTo(-y, 6)
    })
  })

  it('to face the other way: all of it half round about its points', () => {
    const other = swapped(plan, { facing: 'falling' })
    expect(other.turnouts['turnout-2']).toEqual(plan.turnouts['turnout-2'])
    ends(plan).forEach(([x, y], i) => {
      expect(ends(other)[i]?.[0]).toBeCloseTo(2000 - x, 6)
      expect(ends(other)[i]?.[1]).toBeCloseTo(-y, 6)
    })
  })

  it('and back again: the plan as it was', () => {
    for (const [there, back] of [
      [{ hand: 'right' }, { hand: 'left' }],
      [{ facing: 'falling' }, { facing: 'rising' }],
    ] as const) {
      const again = swapped(swapped(plan, there), back)
      ends(plan).forEach((end, i) => end.forEach((value, k) => expect(ends(again)[i]?.[k]).toBeCloseTo(value, 6)))
      expect(again.turnouts).toEqual(plan.turnouts)
    }
  })

  it('but for a track that hangs elsewhere too, which stays', () => {
    const held = planWith({
      tracks: [
        ...Object.values(plan.tracks).filter(({ id }) => id === 'track-1'),
        aTrack({
          id: 'spur',
          start: { kind: 'leg', turnout: 'turnout-1', leg: 'diverging' },
          corners: [aCorner({ id: 'c1', x: 1400, y: 60, easementIn: 0, easementOut: 0 })],
          end: { kind: 'leg', turnout: 'turnout-3', leg: 'diverging' },
        }),
      ],
      turnouts: [
        ...Object.values(plan.turnouts).filter(({ id }) => id === 'turnout-1'),
        aTurnout({ id: 'turnout-3', track: 'track-1', stationMm: 2600, hand: 'right', facing: 'falling', frog: 6 }),
      ],
    })
    const command = turnoutSwap(held, networkOf(held), 'turnout-1', { hand: 'right' })
    expect(planAfter(held, command).tracks).toEqual(held.tracks)
  })
})
