import { isDeepStrictEqual } from 'node:util'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { editApply, patchApply, patchInvert } from '../../../src/core/edit/index.ts'
import type { PlanCommand, PlanPatch } from '../../../src/core/edit/index.ts'
import { networkCreateDeriver } from '../../../src/core/network/index.ts'
import { pipelineCreate } from '../../../src/core/pipeline/index.ts'
import type { Derived } from '../../../src/core/pipeline/index.ts'
import type { Corner, Plan, Turnout } from '../../../src/core/plan/index.ts'
import { trackworkCreateDeriver } from '../../../src/core/track/index.ts'
import { aCorner, aTrack, aTurnout, planWith } from '../../support/plans.ts'

const seed = 20261108

/** A main with two turnouts, a spur on one leg, a track that arrives at the other and carries a turnout with a spur of its own. */
function basePlan(): Plan {
  const wide = Object.values(planWith().lineClasses).map((lineClass) => ({ ...lineClass, tieSpacingMm: 20 }))
  return planWith({
    lineClasses: wide,
    tracks: [
      aTrack({ corners: [aCorner({ x: 2600 })], end: { kind: 'free', x: 3700, y: 1300 } }),
      aTrack({
        id: 'track-2',
        lineClass: 'yard',
        start: { kind: 'leg', turnout: 'turnout-1', leg: 'diverging' },
        end: { kind: 'free', x: 1900, y: 200 },
      }),
      aTrack({
        id: 'track-3',
        lineClass: 'yard',
        start: { kind: 'free', x: 3300, y: -250 },
        end: { kind: 'leg', turnout: 'turnout-2', leg: 'diverging' },
      }),
      aTrack({
        id: 'track-4',
        lineClass: 'yard',
        start: { kind: 'leg', turnout: 'turnout-3', leg: 'diverging' },
        end: { kind: 'free', x: 2100, y: -600 },
      }),
    ],
    turnouts: [
      aTurnout({ stationMm: 300 }),
      aTurnout({ id: 'turnout-2', stationMm: 900, hand: 'right' }),
      aTurnout({ id: 'turnout-3', track: 'track-3', stationMm: 600 }),
    ],
  })
}

const trackId = fc.constantFrom('track-1', 'track-2', 'track-3', 'track-4', 'track-5')
const turnoutId = fc.constantFrom('turnout-1', 'turnout-2', 'turnout-3', 'turnout-4')
const x = fc.integer({ min: -200, max: 4000 })
const y = fc.integer({ min: -800, max: 1600 })
const free = fc.record({ kind: fc.constant('free' as const), x, y })
const leg = turnoutId.map((turnout) => ({ kind: 'leg' as const, turnout, leg: 'diverging' as const }))
const corner: fc.Arbitrary<Omit<Corner, 'id'>> = fc.record({
  x,
  y,
  radius: fc.constantFrom('class' as const, 'easement-only' as const, 300, 700),
  easementIn: fc.constantFrom('class' as const, 0, 150),
  easementOut: fc.constantFrom('class' as const, 0, 150),
})
const turnoutChange: fc.Arbitrary<Partial<Omit<Turnout, 'id'>>> = fc.record(
  {
    stationMm: fc.integer({ min: -50, max: 2500 }),
    facing: fc.constantFrom('rising' as const, 'falling' as const),
    hand: fc.constantFrom('left' as const, 'right' as const),
    frog: fc.constantFrom(4, 6, 6.5, 8, 12, 20),
    track: trackId,
  },
  { requiredKeys: [] },
)

const command: fc.Arbitrary<PlanCommand> = fc.oneof(
  fc.record({
    kind: fc.constant('corner.set' as const),
    track: trackId,
    corner: fc.constantFrom('pi-1', 'pi-2'),
    change: fc.record({ x, y }, { requiredKeys: [] }),
  }),
  fc.record({ kind: fc.constant('corner.insert' as const), track: trackId, index: fc.integer({ min: 0, max: 2 }), corner }),
  fc.record({ kind: fc.constant('corner.remove' as const), track: trackId, corner: fc.constantFrom('pi-1', 'pi-2') }),
  fc.record({ kind: fc.constant('turnout.set' as const), id: turnoutId, change: turnoutChange }),
  turnoutChange.map((change) => ({ kind: 'turnout.add' as const, record: aTurnout({ id: 'turnout-4', ...change }) })),
  fc.record({ kind: fc.constant('track.setStart' as const), id: trackId, start: fc.oneof(free, leg) }),
  fc.record({
    kind: fc.constant('track.setEnd' as const),
    id: trackId,
    end: fc.oneof(free, leg, fc.constant({ kind: 'closed' as const })),
  }),
  fc
    .oneof(free, leg)
    .map((start) => ({ kind: 'track.add' as const, record: aTrack({ id: 'track-5', start, end: { kind: 'free', x: 3000, y: -700 } }) })),
  fc.record({
    kind: fc.constant('track.set' as const),
    id: trackId,
    change: fc.record({ lineClass: fc.constantFrom('main', 'branch', 'yard') }),
  }),
  fc.record({
    kind: fc.constant('lineClass.set' as const),
    id: fc.constantFrom('main', 'yard'),
    change: fc.record({ usualRadiusMm: fc.integer({ min: 300, max: 900 }), tieSpacingMm: fc.constantFrom(20, 25) }, { requiredKeys: [] }),
  }),
  fc.record({
    kind: fc.constant('railway.set' as const),
    change: fc.record({ gaugeMm: fc.constantFrom(16.5, 12), tieLengthMm: fc.constantFrom(29, 31) }, { requiredKeys: [] }),
  }),
  fc.record({ kind: fc.constant('remove' as const), table: fc.constant('turnouts' as const), id: turnoutId }),
  fc.record({ kind: fc.constant('remove' as const), table: fc.constant('tracks' as const), id: trackId }),
)
const step = fc.oneof({ weight: 8, arbitrary: command }, { weight: 1, arbitrary: fc.constant('undo' as const) })

/** Every plan that a list of steps passes through; refused commands change nothing. */
function plansOf(steps: readonly (PlanCommand | 'undo')[]): Plan[] {
  const done: PlanPatch[] = []
  const plans = [basePlan()]
  for (const one of steps) {
    const plan = plans[plans.length - 1]
    if (!plan) continue
    if (one === 'undo') {
      const patch = done.pop()
      if (patch) plans.push(patchApply(plan, patchInvert(patch)))
      continue
    }
    const result = editApply(plan, one)
    if (!result.ok) continue
    done.push(result.patch)
    plans.push(patchApply(plan, result.patch))
  }
  return plans
}

/** Where one derived plan differs from another; order of the maps counts. */
function difference(a: Derived, b: Derived): string | null {
  for (const [name, one, other] of [
    ['tracks', a.network.tracks, b.network.tracks],
    ['turnouts', a.network.turnouts, b.network.turnouts],
    ['turnoutsOn', a.network.turnoutsOn, b.network.turnoutsOn],
    ['crossings', a.network.crossings, b.network.crossings],
    ['crossingsOn', a.network.crossingsOn, b.network.crossingsOn],
    ['plain track', a.trackwork.tracks, b.trackwork.tracks],
    ['turnout track', a.trackwork.turnouts, b.trackwork.turnouts],
    ['crossing track', a.trackwork.crossings, b.trackwork.crossings],
  ] as const) {
    if (!isDeepStrictEqual([...one.keys()], [...other.keys()])) return `${name}: order`
    for (const [id, value] of one) if (!isDeepStrictEqual(value, other.get(id))) return `${name}: ${id}`
  }
  return a.plan === b.plan && a.network.plan === b.network.plan && a.network.vehicles === b.network.vehicles ? null : 'plan'
}

/** The law, for any function that claims to derive: after every step the answer is that of a fresh pipeline. */
function lawHolds(derive: (plan: Plan) => Derived, steps: readonly (PlanCommand | 'undo')[]): string | null {
  for (const [i, plan] of plansOf(steps).entries()) {
    const found = difference(derive(plan), pipelineCreate().derive(plan))
    if (found) return `step ${i}: ${found}`
  }
  return null
}

describe('deriving step by step', () => {
  it('gives what deriving from scratch gives, over random edits and undos', () => {
    fc.assert(
      fc.property(fc.array(step, { minLength: 3, maxLength: 10 }), (steps) => {
        expect(lawHolds(pipelineCreate().derive, steps)).toBeNull()
      }),
      { seed, numRuns: 40 },
    )
  })

  it('reaches interesting places: solved and unsolved lines, turnouts set and not, rings', () => {
    const seen = new Set<string>()
    for (const steps of fc.sample(fc.array(step, { minLength: 3, maxLength: 10 }), { seed, numRuns: 120 })) {
      for (const plan of plansOf(steps)) {
        const { tracks, turnouts } = networkCreateDeriver()(plan)
        for (const { alignment } of tracks.values())
          for (const kind of alignment.ok ? ['solved'] : alignment.problems.map((problem) => problem.kind)) seen.add(kind)
        for (const { result } of turnouts.values())
          seen.add(!result.ok ? result.problem.kind : result.geometry.request.host === null ? 'set' : 'bent')
      }
    }
    for (const kind of ['solved', 'set', 'bent', 'runsOff', 'hostUnsolved', 'legUnsolved', 'easementsTooLong', 'circular'])
      expect([...seen]).toContain(kind)
  })

  it('would catch a pipeline that forgets to look at legs, and one that keeps the first answer', () => {
    const forgetful = (): ((plan: Plan) => Derived) => {
      const networkOf = networkCreateDeriver()
      const trackworkOf = trackworkCreateDeriver()
      const kept = new Map<string, unknown>()
      return (plan) => {
        const network = networkOf(plan)
        const trackwork = trackworkOf(network)
        // Plain track remembered by its record alone: wrong as soon as a turnout moves under it.
        const tracks = new Map(
          [...trackwork.tracks].map(([id, value]) => {
            const record = plan.tracks[id]
            const before = kept.get(id) as { readonly record: unknown; readonly value: typeof value } | undefined
            if (before?.record === record && before) return [id, before.value]
            kept.set(id, { record, value })
            return [id, value]
          }),
        )
        return { plan, network, trackwork: { ...trackwork, tracks } }
      }
    }
    const first: { derived: Derived | null } = { derived: null }
    const stuck = (plan: Plan): Derived => (first.derived ??= pipelineCreate().derive(plan))
    const slide: PlanCommand = { kind: 'turnout.set', id: 'turnout-1', change: { stationMm: 420 } }
    expect(lawHolds(pipelineCreate().derive, [slide])).toBeNull()
    expect(lawHolds(forgetful(), [slide])).toBe('step 1: plain track: track-1')
    expect(lawHolds(stuck, [slide])).not.toBeNull()
  })

  it("the order of the plan's tables does not matter to any track or turnout", () => {
    const plan = basePlan()
    const turned = {
      ...plan,
      tracks: Object.fromEntries(Object.entries(plan.tracks).toReversed()),
      turnouts: Object.fromEntries(Object.entries(plan.turnouts).toReversed()),
    }
    const [one, other] = [pipelineCreate().derive(plan), pipelineCreate().derive(turned)]
    for (const [id, value] of one.trackwork.tracks) expect(isDeepStrictEqual(value, other.trackwork.tracks.get(id)), id).toBe(true)
    for (const [id, value] of one.network.turnouts) expect(isDeepStrictEqual(value, other.network.turnouts.get(id)), id).toBe(true)
  })
})
