import { describe, expect, it } from 'vitest'
import { networkCreateDeriver, trackBeside } from '../../../src/core/network/index.ts'
import type { TrackBeside } from '../../../src/core/network/index.ts'
import type { Track } from '../../../src/core/plan/index.ts'
import { aBend, aTrack, planWith } from '../../support/plans.ts'

function besideOf(id: string, ...tracks: readonly Track[]): TrackBeside | null {
  const network = networkCreateDeriver()(planWith({ tracks }))
  const own = network.tracks.get(id)
  if (own === undefined) throw new Error(`no ${id}`)
  return trackBeside(network.tracks.values(), own)
}

const free = (x: number, y: number) => ({ kind: 'free', x, y }) as const
const second = (change: Partial<Track>): Track => aTrack({ id: 'track-2', name: 'Second', ...change })

describe('the track beside one', () => {
  it('is as far off all along where it is parallel', () => {
    const found = besideOf('track-2', aTrack(), second({ start: free(200, 50), end: free(1700, 50) }))
    expect(found?.track).toBe('track-1')
    expect(found?.leastMm).toBeCloseTo(50, 9)
    expect(found?.mostMm).toBeCloseTo(50, 9)
    expect(found?.alongMm).toBeCloseTo(1500, 6)
  })

  it('is as far off on a curve about one centre, by radii that differ by as much', () => {
    // Both turn 60 degrees about one point: their PIs lie on one ray from it, R / cos 30 degrees out.
    const arc = (id: string, radiusMm: number): Track => {
      const turn = Math.PI / 3
      const out = radiusMm * Math.tan(turn / 2)
      return aBend({
        id,
        start: free(0, -radiusMm),
        corners: [{ id: 'c', x: out, y: -radiusMm, radius: radiusMm, easementIn: 0, easementOut: 0 }],
        end: free(radiusMm * Math.sin(turn), -radiusMm * Math.cos(turn)),
      })
    }
    const found = besideOf('track-1', arc('track-1', 800), arc('track-2', 852))
    expect(found?.leastMm).toBeCloseTo(52, 6)
    expect(found?.mostMm).toBeCloseTo(52, 6)
  })

  it('says by how much it is parallel no more', () => {
    // From 50 to 70 mm over 2 m.
    const found = besideOf('track-2', aTrack(), second({ start: free(0, 50), end: free(2000, 70) }))
    expect(found?.leastMm).toBeGreaterThan(50)
    expect(found?.leastMm).toBeLessThan(50.3)
    expect(found?.mostMm).toBeGreaterThan(69.7)
    expect(found?.mostMm).toBeLessThan(70)
  })

  it('is none where tracks only cross, lie far off, or lie one behind the other', () => {
    expect(besideOf('track-1', aTrack(), second({ start: free(900, -300), end: free(1100, 300) }))).toBeNull()
    expect(besideOf('track-1', aTrack(), second({ start: free(0, 400), end: free(2000, 400) }))).toBeNull()
    expect(besideOf('track-1', aTrack(), second({ start: free(2000, 0), end: free(4000, 0) }))).toBeNull()
  })
})
