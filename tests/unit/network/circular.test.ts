import { describe, expect, it } from 'vitest'
import { networkCreateDeriver } from '../../../src/core/network/index.ts'
import type { Network } from '../../../src/core/network/index.ts'
import type { Plan, Track } from '../../../src/core/plan/index.ts'
import { aTrack, aTurnout, planWith } from '../../support/plans.ts'

/** A track from the leg of a turnout on another. */
const hanging = (id: string, turnout: string, endTurnout?: string): Track =>
  aTrack({
    id,
    start: { kind: 'leg', turnout, leg: 'diverging' },
    end: endTurnout === undefined ? { kind: 'free', x: 4000, y: 900 } : { kind: 'leg', turnout: endTurnout, leg: 'diverging' },
  })

const problemsOf = (network: Network, id: string) => {
  const alignment = network.tracks.get(id)?.alignment
  return alignment?.ok === false ? alignment.problems : []
}

const derive = (plan: Plan): Network => networkCreateDeriver()(plan)

describe('tracks that hang on each other', () => {
  it('a ring of two is told at both, from the lowest id, in whatever order the plan has them', () => {
    const a = hanging('track-a', 'turnout-on-b')
    const b = hanging('track-b', 'turnout-on-a')
    const turnouts = [aTurnout({ id: 'turnout-on-a', track: 'track-a' }), aTurnout({ id: 'turnout-on-b', track: 'track-b' })]
    for (const tracks of [
      [a, b],
      [b, a],
    ]) {
      const network = derive(planWith({ tracks, turnouts }))
      for (const id of ['track-a', 'track-b']) {
        expect(problemsOf(network, id)).toEqual([{ kind: 'circular', through: ['track-a', 'track-b'] }])
      }
      expect(network.turnouts.get('turnout-on-a')?.result).toMatchObject({ ok: false, problem: { kind: 'hostUnsolved' } })
    }
  })

  it('a track at the leg of a turnout on itself', () => {
    const network = derive(planWith({ tracks: [hanging('track-1', 'turnout-1')], turnouts: [aTurnout()] }))
    expect(problemsOf(network, 'track-1')).toEqual([{ kind: 'circular', through: ['track-1'] }])
  })

  it('a track that hangs on a ring is not in it: its leg is unsolved', () => {
    const network = derive(
      planWith({
        tracks: [hanging('track-a', 'turnout-on-a'), hanging('track-b', 'turnout-on-a')],
        turnouts: [aTurnout({ id: 'turnout-on-a', track: 'track-a' })],
      }),
    )
    expect(problemsOf(network, 'track-a')).toEqual([{ kind: 'circular', through: ['track-a'] }])
    expect(problemsOf(network, 'track-b')).toEqual([{ kind: 'legUnsolved', end: 'start', turnout: 'turnout-on-a' }])
  })

  it('a leg of no turnout is unsolved, not a throw', () => {
    const network = derive(planWith({ tracks: [hanging('track-1', 'turnout-9'), hanging('track-2', '__proto__')] }))
    expect(problemsOf(network, 'track-1')).toEqual([{ kind: 'legUnsolved', end: 'start', turnout: 'turnout-9' }])
    expect(problemsOf(network, 'track-2')).toEqual([{ kind: 'legUnsolved', end: 'start', turnout: '__proto__' }])
  })

  it('a chain of a thousand, each on the one before, is solved in any order and without deep recursion', () => {
    const count = 1000
    const first = aTrack({ id: 'track-0', end: { kind: 'free', x: 900, y: 0 } })
    const rest = Array.from({ length: count - 1 }, (_, i) => {
      // Each leaves its leg straight on and ends 900 mm farther; the frog angle adds up, so the chain winds.
      return hanging(`track-${i + 1}`, `turnout-${i}`)
    })
    const turnouts = Array.from({ length: count - 1 }, (_, i) => aTurnout({ id: `turnout-${i}`, track: `track-${i}`, stationMm: 100 }))
    const network = derive(planWith({ tracks: [...rest.toReversed(), first], turnouts }))
    expect(network.tracks.size).toBe(count)
    expect(network.tracks.get('track-1')?.alignment.ok).toBe(true)
    const unsolved = [...network.tracks.values()].flatMap(({ alignment }) =>
      alignment.ok ? [] : alignment.problems.map(({ kind }) => kind),
    )
    expect(unsolved).not.toContain('circular')
  })
})
