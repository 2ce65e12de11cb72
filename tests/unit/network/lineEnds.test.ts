import { describe, expect, it } from 'vitest'
import { endMet, endsNearMm } from '../../../src/core/network/index.ts'
import { pipelineCreate } from '../../../src/core/pipeline/index.ts'
import { aTrack, planWith } from '../../support/plans.ts'

const turn = (deg: number): number => (deg * Math.PI) / 180

/** A straight of a metre to the right, and another that begins a gap behind its end and turns off by some degrees. */
function met(gapMm: number, deg: number, withinMm?: number) {
  const first = aTrack({ id: 'track-1', start: { kind: 'free', x: 0, y: 0 }, end: { kind: 'free', x: 1000, y: 0 } })
  const from = { x: 1000 + gapMm, y: 0 }
  const to = { x: from.x + 800 * Math.cos(turn(deg)), y: 800 * Math.sin(turn(deg)) }
  const second = aTrack({ id: 'track-2', start: { kind: 'free', ...from }, end: { kind: 'free', ...to } })
  const { tracks } = pipelineCreate().derive(planWith({ tracks: [first, second] })).network
  const own = tracks.get('track-1')
  if (own === undefined) throw new Error('no track')
  return endMet(tracks.values(), own, 'end', withinMm)
}

describe('ends that meet', () => {
  it('are one line where they touch, with the turn in the joint, left positive', () => {
    expect(met(0, 0)).toMatchObject({ track: 'track-2', end: 'start', gapMm: 0 })
    expect(met(0, 0)?.kinkRad).toBeCloseTo(0, 12)
    expect(met(0, 3.2)?.kinkRad).toBeCloseTo(turn(3.2), 9)
    expect(met(0, -3.2)?.kinkRad).toBeCloseTo(-turn(3.2), 9)
  })

  it('are two lines where a gap lies between them that no joiner takes up, or where one would have to turn round', () => {
    expect(met(2, 0)).toBeNull()
    expect(met(2, 0, endsNearMm)).toMatchObject({ gapMm: 2 })
    expect(met(0, 60)).toBeNull()
    expect(met(0, 180)).toBeNull()
  })
})
