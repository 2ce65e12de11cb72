import { describe, expect, it } from 'vitest'
import type { Hideable } from '../../src/store/hidden.ts'
import type { Plan } from '../../src/core/plan/types.ts'
import { aBenchwork, aTrack, aTurnout, planWith } from '../support/plans.ts'
import { toolHarness } from '../support/toolHarness.ts'

/** A track with a turnout over a board, a guide beside it. */
const plan: Plan = {
  ...planWith({ tracks: [aTrack()], turnouts: [aTurnout({ stationMm: 1000 })], benchworks: [aBenchwork()] }),
  guides: { 'guide-1': { id: 'guide-1', name: 'Guide 1', at: { x: 0, y: 40 }, angleRad: 0 } },
}

describe('what is out of sight', () => {
  it('is not meant by the pointer: what lies below is', () => {
    const hand = toolHarness(plan).click(300, 0)
    expect(hand.selection()).toEqual({ kind: 'record', table: 'tracks', id: 'track-1' })
    hand.hide('tracks').click(300, 0)
    expect(hand.selection()).toEqual({ kind: 'record', table: 'benchworks', id: 'benchwork-1' })
    hand.hide('tracks', 'benchwork').click(300, 0)
    expect(hand.selection()).toEqual({ kind: 'none' })
  })

  it('lets go of what is selected of it, and comes back with what is selected from elsewhere', () => {
    const hand = toolHarness(plan).select({ kind: 'trackEnd', track: 'track-1', end: 'end' }).hide('tracks', 'guides')
    expect(hand.selection()).toEqual({ kind: 'none' })
    hand.select({ kind: 'record', table: 'tracks', id: 'track-1' })
    expect(hand.hidden()).toEqual(['guides'])
    hand.select({ kind: 'none' })
    expect(hand.hidden()).toEqual(['guides'])
  })

  it('is not taken by a frame, by a turnout that is set, or by a measure', () => {
    const frame = toolHarness(plan).hide('tracks').option({ kind: 'box' }).drag([-50, -50], [2050, 50])
    expect(frame.selection()).toEqual({ kind: 'none' })
    const turnout = toolHarness(plan, 'turnout').hide('tracks').click(300, 0)
    turnout.expectUndoCount(0)
    expect(turnout.hint()).toEqual({ kind: 'noTrackHere' })
  })

  it.each<{ readonly kind: Hideable; readonly at: readonly [number, number]; readonly snap: string }>([
    { kind: 'guides', at: [500, 43], snap: 'guide' },
    { kind: 'tracks', at: [3, 4], snap: 'trackEnd' },
  ])('draws no point to it: $kind', ({ kind, at: [x, y], snap }) => {
    const snaps = (...hidden: readonly Hideable[]): readonly string[] =>
      toolHarness(plan, 'track')
        .hide(...hidden)
        .pointerMove(x, y)
        .sketch()
        .flatMap((item) => (item.kind === 'snap' ? [item.snap.kind] : []))
    expect(snaps()).toContain(snap)
    expect(snaps(kind)).not.toContain(snap)
  })
})
