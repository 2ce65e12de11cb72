import { describe, expect, it } from 'vitest'
import { differenceText, planDifferences, railwayDifferenceText } from '../../../src/words/compareText.ts'
import { aTrack, aTurnout, planWith } from '../../support/plans.ts'

const before = planWith({ tracks: [aTrack()], turnouts: [aTurnout()] })
const [track] = Object.values(before.tracks)
const [turnout] = Object.values(before.turnouts)
if (track === undefined || turnout === undefined) throw new Error('The plan has no track or turnout.')

describe('what two plans have otherwise', () => {
  it('is nothing for the same plan, whatever the order of its keys', () => {
    const again = { ...before, tracks: { [track.id]: Object.fromEntries(Object.entries(track).toReversed()) as unknown as typeof track } }
    expect(planDifferences(before, again)).toEqual({ railway: [], records: [] })
  })

  it('is told by what was added, removed and changed, either way round', () => {
    const second = { ...track, id: 'track-9', name: 'Quay siding' }
    const after = {
      ...before,
      railway: { ...before.railway, title: 'Other', edgeMarginMm: before.railway.edgeMarginMm + 1 },
      tracks: { ...before.tracks, 'track-9': second },
      turnouts: { [turnout.id]: { ...turnout, name: 'West', stationMm: turnout.stationMm + 5 } },
    }
    const { railway, records } = planDifferences(before, after)
    expect(railwayDifferenceText(railway)).toBe('The railway as a whole differs in title, edge margin.')
    expect(records.map((difference) => differenceText(before, after, difference))).toEqual([
      'Track Quay siding: only in the second.',
      `Turnout West (was ${turnout.name}): differs in station.`,
    ])
    expect(planDifferences(after, before).records.map(({ what }) => what)).toEqual(['removed', 'changed'])
  })
})
