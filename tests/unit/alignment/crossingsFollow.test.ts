import { describe, expect, it } from 'vitest'
import { trackExtend, trackMerge, trackReverse, trackSplit, trackTrim } from '../../../src/core/alignment/index.ts'
import type { TrackInPlan, TrackOperationResult } from '../../../src/core/alignment/index.ts'
import { networkCreateDeriver } from '../../../src/core/network/index.ts'
import type { Plan } from '../../../src/core/plan/index.ts'
import { aCrossing, aTrack, planAfter, planWith } from '../../support/plans.ts'

/** Main of 2 m crossed twice, at 600 and at 1400; the second place has slips. */
const plan = planWith({
  tracks: [
    aTrack(),
    ...[600, 1400].map((x, i) =>
      aTrack({ id: `track-${i + 2}`, start: { kind: 'free', x: x - 800, y: -150 }, end: { kind: 'free', x: x + 800, y: 150 } }),
    ),
  ],
  crossings: [aCrossing({ other: 'track-3', stationMm: 1400, otherStationMm: 813, slip: 'double' })],
})

function trackIn(at: Plan, id: string): TrackInPlan {
  const found = networkCreateDeriver()(at).tracks.get(id)
  if (found?.alignment.ok !== true) throw new Error(`no ${id}`)
  return { plan: at, track: found.track, lineClass: found.lineClass, alignment: found.alignment }
}

/** Where the choice is after an operation, in the plan; and on which track. */
function chosenAfter(result: TrackOperationResult): readonly unknown[] {
  if (!result.ok) throw new Error(JSON.stringify(result.problem))
  const found = networkCreateDeriver()(planAfter(plan, result.command)).crossings.get('crossing-1')
  const record = found?.record
  if (!found || !record) throw new Error('the choice is lost')
  // It is where its record says, not only nearest to it.
  expect(Math.abs(found.stationMm - record.stationMm)).toBeLessThan(2)
  return [found.track, Math.round(found.pose.x), Math.round(found.pose.y), record.slip]
}

describe('what was chosen at a crossing stays in its place', () => {
  it.each<[string, (track: TrackInPlan) => TrackOperationResult, string]>([
    ['reversed', (track) => trackReverse(track), 'track-1'],
    ['made longer at its start', (track) => trackExtend(track, 'start', 500), 'track-1'],
    ['split before it', (track) => trackSplit(track, 1000, []), 'track-4'],
    ['split behind it', (track) => trackSplit(track, 1900, []), 'track-1'],
    ['trimmed before it', (track) => trackTrim(track, 900, 'behind', []), 'track-1'],
  ])('when its track is %s', (_what, change, track) => {
    expect(chosenAfter(change(trackIn(plan, 'track-1')))).toEqual([track, 1400, 0, 'double'])
  })

  it('when its track is merged into another', () => {
    const split = trackSplit(trackIn(plan, 'track-1'), 1000, [])
    if (!split.ok) throw new Error('not split')
    const parts = planAfter(plan, split.command)
    const merged = trackMerge({ on: trackIn(parts, 'track-1'), end: 'end' }, { on: trackIn(parts, 'track-4'), end: 'start' })
    if (!merged.ok) throw new Error('not merged')
    const found = networkCreateDeriver()(planAfter(parts, merged.command)).crossings.get('crossing-1')
    expect(found?.track).toBe('track-1')
    expect(found?.stationMm).toBeCloseTo(1400, 6)
  })
})
