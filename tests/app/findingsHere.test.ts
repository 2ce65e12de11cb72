import { describe, expect, it } from 'vitest'
import { findingsHere } from '../../src/app/particulars/findingsHere.ts'
import type { RecordAt } from '../../src/app/particulars/recordParts.tsx'
import { pipelineCreate } from '../../src/core/pipeline/index.ts'
import type { Plan } from '../../src/core/plan/types.ts'
import { planFindings } from '../support/checks.ts'
import { aBenchwork, aCorner, aTrack, aTurnout, planWith } from '../support/plans.ts'
import { box } from '../support/rooms.ts'

const here = (plan: Plan, at: RecordAt): readonly string[] =>
  findingsHere(planFindings(plan), plan, pipelineCreate().derive(plan).network, at).map(({ rule, record }) => `${rule} ${record}`)

describe('what is found at the thing at hand', () => {
  it('is at a corner also what breaks a limit on its curve, and not what does elsewhere', () => {
    // The curve about (2000, 0) leaves the benchwork, which ends at x = 1700; the one about (2000, 4000) stands on none either.
    const plan = planWith({
      tracks: [aTrack({ corners: [aCorner({ x: 2000, y: 0 })], end: { kind: 'free', x: 2000, y: 2000 } })],
      benchworks: [aBenchwork({ outline: box(-200, -200, 1700, 300) })],
    })
    const [corner] = plan.tracks['track-1']?.corners ?? []
    expect(here(plan, { table: 'tracks', id: 'track-1', corner: corner?.id ?? '' })).toContain('benchwork-edge track-1')
  })

  it('is at a corner of a track without a line all that keeps it from one', () => {
    const plan = planWith({
      tracks: [
        aTrack({
          corners: [aCorner({ x: 2000, y: 0 }), aCorner({ id: 'corner-2', x: 2000, y: 400 })],
          end: { kind: 'free', x: 4000, y: 400 },
        }),
      ],
    })
    const [one] = plan.tracks['track-1']?.corners ?? []
    for (const corner of [one?.id ?? '', 'corner-2'])
      expect(here(plan, { table: 'tracks', id: 'track-1', corner }).length, corner).toBeGreaterThan(0)
  })

  it('is at a track also what its turnouts have, and at the other one what names it', () => {
    const plan = planWith({ tracks: [aTrack()], turnouts: [aTurnout({ stationMm: 1950 })] })
    expect(here(plan, { table: 'tracks', id: 'track-1' })).toEqual(['turnout-place turnout-1'])
    const near = planWith({
      tracks: [aTrack(), aTrack({ id: 'track-2', start: { kind: 'free', x: 0, y: 20 }, end: { kind: 'free', x: 2000, y: 20 } })],
    })
    for (const id of ['track-1', 'track-2']) expect(here(near, { table: 'tracks', id }).join()).toContain('track-clearance')
  })
})
