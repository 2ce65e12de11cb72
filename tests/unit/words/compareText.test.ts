import { describe, expect, it } from 'vitest'
import type { Corner } from '../../../src/core/plan/types.ts'
import { differenceText, planDifferences, railwayDifferenceText } from '../../../src/words/compareText.ts'
import { aCorner, aTrack, aTurnout, planWith } from '../../support/plans.ts'

const metric = { units: 'metric', fraction: 64 } as const
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
    expect(railwayDifferenceText(before, after, railway, metric)).toBe(
      `The railway as a whole differs in title, edge margin (36 mm, was 35 mm).`,
    )
    expect(records.map((difference) => differenceText(before, after, difference, metric))).toEqual([
      'Track Quay siding: only in the second.',
      `Turnout West (was ${turnout.name}): differs in station (505 mm, was 500 mm).`,
    ])
    expect(planDifferences(after, before).records.map(({ what }) => what)).toEqual(['removed', 'changed'])
  })

  it('says which corners of a track are others, and in what numbers', () => {
    const corners = [
      aCorner({ id: 'a', x: 1000, y: 0 }),
      aCorner({ id: 'b', x: 2000, y: 0, radius: 600, easementIn: 200, easementOut: 200 }),
      aCorner({ id: 'c', x: 2000, y: 2000, radius: 700 }),
    ]
    const told = (next: readonly Corner[], change: Partial<typeof track> = {}): readonly string[] => {
      const [one, other] = [corners, next].map((list) => planWith({ tracks: [{ ...track, corners: list }] }))
      if (one === undefined || other === undefined) return []
      const changed = { ...other, tracks: { [track.id]: { ...track, corners: next, ...change } } }
      return planDifferences(one, changed).records.map((difference) => differenceText(one, changed, difference, metric))
    }
    const [a, b, c] = corners
    if (a === undefined || b === undefined || c === undefined) throw new Error('The track has three corners.')
    expect(told([a, { ...b, radius: 711, easementIn: 'class' }, { ...c, x: 2003, y: 2004 }])).toEqual([
      `Track ${track.name}: differs in PI 2 (radius 711 mm, was 600 mm; easement in by class, was 200 mm), PI 3 (moved 5 mm).`,
    ])
    // What only counts otherwise is not told.
    expect(told([b, c])).toEqual([`Track ${track.name}: differs in PI 1 of the first (not in the second).`])
    const put = aCorner({ id: 'd', x: 500, y: 0 })
    expect(told([put, a, b, { ...c, radius: 'easement-only' }])).toEqual([
      `Track ${track.name}: differs in PI 1 (only in the second), PI 4 (was PI 3; radius of easements only, was 700 mm).`,
    ])
    expect(told(corners.toReversed())).toEqual([`Track ${track.name}: differs in the order of its corners.`])
    expect(told(corners, { lineClass: 'siding' })).toEqual([`Track ${track.name}: differs in line class (Siding, was Main).`])
  })
})
