import { describe, expect, it } from 'vitest'
import { trackThere } from '../../../src/core/network/index.ts'
import { pipelineCreate } from '../../../src/core/pipeline/index.ts'
import { aTrack, planWith } from '../../support/plans.ts'

const at = (x: number, y: number) => ({ kind: 'free', x, y }) as const
const { tracks } = pipelineCreate().derive(
  planWith({
    tracks: [
      aTrack(),
      aTrack({ id: 'beside', start: at(0, 50), end: at(2000, 50) }),
      aTrack({ id: 'across', start: at(1000, -900), end: at(1000, 900) }),
      aTrack({ id: 'short', start: at(0, 100), end: at(400, 100) }),
    ],
  }),
).network

/** What a straight along x at some height would lie on. */
function there(y: number, withinMm = 25, but: readonly string[] = ['track-1']) {
  const { network } = pipelineCreate().derive(planWith({ tracks: [aTrack({ start: at(0, y), end: at(2000, y) })] }))
  const alignment = network.tracks.get('track-1')?.alignment
  if (alignment?.ok !== true) throw new Error('no line')
  return trackThere(tracks.values(), alignment.path, withinMm, but)
}

describe('a line that would lie on a track', () => {
  it('is told where it lies nearer than asked along most of it, its host left out', () => {
    expect(there(50)).toBe('beside')
    expect(there(60)).toBe('beside')
    expect(there(-50)).toBeNull()
    expect(there(0)).toBeNull()
    expect(there(0, 25, [])).toBe('track-1')
  })

  it('is not one that crosses a track, or lies on one along less than a quarter of it', () => {
    expect(there(-300)).toBeNull()
    expect(there(110)).toBeNull()
  })
})
