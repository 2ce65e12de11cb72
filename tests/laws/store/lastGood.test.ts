import { expect, test } from 'vitest'
import { pipelineCreate } from '../../../src/core/pipeline/index.ts'
import { checksInline } from '../../../src/engine/checksInline.ts'
import { planChecks } from '../../../src/engine/planChecks.ts'
import { derivedStoreCreate, planStoreCreate } from '../../../src/store/index.ts'
import { aCorner, aTrack, aTurnout, planWith } from '../../support/plans.ts'

/** A right angle with room for a wide curve, and a turnout on its first straight. */
const bent = planWith({
  tracks: [
    aTrack({
      corners: [aCorner({ x: 2000, y: 0, radius: 900, easementIn: 300, easementOut: 300 })],
      end: { kind: 'free', x: 2000, y: 2000 },
    }),
  ],
  turnouts: [aTurnout({ track: 'track-1', stationMm: 200 })],
})

function opened() {
  const plan = planStoreCreate(bent)
  const derived = derivedStoreCreate(
    plan,
    pipelineCreate(),
    planChecks({ engine: checksInline(), fallback: () => Promise.resolve(checksInline()), rest: () => Promise.resolve() }),
  )
  const radius = (radiusMm: number): void =>
    void plan.getState().apply({ kind: 'corner.set', track: 'track-1', corner: 'pi-1', change: { radius: radiusMm } })
  return { plan, derived, radius, last: () => derived.getState().lastGood }
}

test('a track that cannot be solved any more keeps its last line and what stood on it, until it has one again', () => {
  const { derived, radius, last, plan } = opened()
  const before = derived.getState().derived
  expect(last().tracks.size + last().turnouts.size).toBe(0)
  radius(50)
  expect(derived.getState().derived.network.tracks.get('track-1')?.alignment.ok).toBe(false)
  expect(last().tracks.get('track-1')?.on).toBe(before.network.tracks.get('track-1'))
  expect(last().tracks.get('track-1')?.plain).toBe(before.trackwork.tracks.get('track-1'))
  expect(last().turnouts.get('turnout-1')?.laid).toBe(before.trackwork.turnouts.get('turnout-1'))
  const kept = last()
  // Another number that does not fit: the last that did is still the first one.
  radius(9000)
  expect(last()).toBe(kept)
  radius(800)
  expect(last().tracks.size + last().turnouts.size).toBe(0)
  plan.getState().undo()
  expect(last().tracks.get('track-1')?.alignment.corners[0]?.solution.radiusMm).toBe(800)
  plan.getState().undo()
  plan.getState().undo()
  expect(last().tracks.size).toBe(0)
})

test('it is no part of the plan: another document begins with nothing, and what is taken out is forgotten', () => {
  const { plan, radius, last } = opened()
  radius(50)
  const broken = plan.getState().plan
  void plan.getState().apply({ kind: 'remove', table: 'tracks', id: 'track-1' })
  expect(last().tracks.size + last().turnouts.size).toBe(0)
  plan.getState().undo()
  plan.getState().load(broken)
  expect(last().tracks.size).toBe(0)
})
