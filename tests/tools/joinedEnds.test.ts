import { describe, expect, it } from 'vitest'
import { endMet } from '../../src/core/network/index.ts'
import { pipelineCreate } from '../../src/core/pipeline/index.ts'
import type { Plan } from '../../src/core/plan/types.ts'
import { aCorner, aTrack, planWith } from '../support/plans.ts'
import { toolHarness } from '../support/toolHarness.ts'

const bare = { radius: 400, easementIn: 0, easementOut: 0 } as const

/** Two tracks that go on into each other at (2000, 0) on a straight along x, each with a corner 1000 away; the second one numbered towards the joint. */
const joined = planWith({
  tracks: [
    aTrack({
      start: { kind: 'free', x: 1000, y: 1500 },
      corners: [aCorner({ x: 1000, y: 0, ...bare })],
      end: { kind: 'free', x: 2000, y: 0 },
    }),
    aTrack({
      id: 'track-2',
      name: 'Branch',
      start: { kind: 'free', x: 3000, y: 1500 },
      corners: [aCorner({ x: 3000, y: 0, ...bare })],
      end: { kind: 'free', x: 2000, y: 0 },
    }),
  ],
})
const end = { kind: 'trackEnd', track: 'track-1', end: 'end' } as const

function kinkOf(plan: Plan): number {
  const { tracks } = pipelineCreate().derive(plan).network
  const own = tracks.get('track-1')
  const met = own === undefined ? null : endMet(tracks.values(), own, 'end')
  if (met === null) throw new Error('not joined')
  return Math.abs(met.kinkRad)
}
const bothAt = (plan: Plan) => [plan.tracks['track-1']?.end, plan.tracks['track-2']?.end]

describe('ends of two tracks that meet', () => {
  it('are dragged as one, along their line, as one step that undo takes back whole', () => {
    const hand = toolHarness(joined).select(end).drag([2000, 0], [2300, 60])
    const place = { kind: 'free', x: 2300, y: 0 }
    expect(bothAt(hand.plan())).toMatchObject([place, place])
    expect(kinkOf(hand.plan())).toBeLessThan(1e-9)
    hand.expectUndoCount(1).undo()
    expect(hand.plan()).toEqual(joined)
  })

  it('are nudged as one', () => {
    const hand = toolHarness(joined, 'select', 'metric').select(end)
    hand.key('ArrowRight')
    expect(bothAt(hand.plan())).toMatchObject([
      { x: 2001, y: 0 },
      { x: 2001, y: 0 },
    ])
  })

  it('stay in line when the PI beside them is moved: the joint goes onto the new line', () => {
    const hand = toolHarness(joined).select({ kind: 'corner', track: 'track-1', corner: 'pi-1' }).drag([1000, 0], [900, -200])
    const { x, y } = hand.plan().tracks['track-1']?.corners[0] ?? { x: 0, y: 0 }
    expect(y).toBeLessThan(-150)
    // Halfway between both PIs, as it was before.
    expect(bothAt(hand.plan())).toMatchObject([
      { x: expect.closeTo((x + 3000) / 2, 6), y: expect.closeTo(y / 2, 6) },
      { x: expect.closeTo((x + 3000) / 2, 6), y: expect.closeTo(y / 2, 6) },
    ])
    expect(kinkOf(hand.plan())).toBeLessThan(1e-9)
  })

  it('that have a kink come along to wherever they are dragged, so that it can be drawn straight', () => {
    const kinked: Plan = {
      ...joined,
      tracks: Object.fromEntries(
        Object.entries(joined.tracks).map(([id, track]) => [id, { ...track, end: { kind: 'free', x: 2000, y: 80 } }]),
      ),
    }
    expect(kinkOf(kinked)).toBeGreaterThan(0.1)
    const hand = toolHarness(kinked).select(end).holding({ alt: true }).drag([2000, 80], [2000, 0])
    expect(bothAt(hand.plan())).toMatchObject([
      { x: 2000, y: 0 },
      { x: 2000, y: 0 },
    ])
    expect(kinkOf(hand.plan())).toBeLessThan(1e-9)
  })

  it('leave an end alone that nothing meets', () => {
    const alone = planWith({ tracks: [aTrack()] })
    const hand = toolHarness(alone).select(end).drag([2000, 0], [2100, 200])
    expect(hand.plan().tracks['track-1']?.end).toMatchObject({ kind: 'free' })
    expect(hand.plan().tracks['track-1']?.end).not.toMatchObject({ y: 0 })
  })
})
