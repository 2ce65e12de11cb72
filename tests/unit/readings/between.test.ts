import { describe, expect, it } from 'vitest'
import { networkCreateDeriver } from '../../../src/core/network/index.ts'
import type { Network } from '../../../src/core/network/types.ts'
import type { Plan, Track } from '../../../src/core/plan/types.ts'
import { betweenTracks } from '../../../src/core/readings/between.ts'
import { readingMeasure } from '../../../src/core/readings/index.ts'
import { aCar, aTrack, planWith } from '../../support/plans.ts'

const networkOf = (plan: Plan): Network => networkCreateDeriver()(plan)
const car = { lengthMm: 210, widthMm: 34, truckCentresMm: 150, truckWheelbaseMm: 24 }

/** A plan whose main line runs this car, or none. */
function withTracks(tracks: readonly Track[], hasCars = true): Plan {
  const plan = planWith({ tracks: [...tracks], vehicles: [aCar({}, car)] })
  const { main } = plan.lineClasses
  if (main === undefined) throw new Error('no main line class')
  const lineClasses = { ...plan.lineClasses, main: { ...main, cars: hasCars ? ['car-1'] : [] } }
  return { ...plan, lineClasses }
}

const beside = (y: number): Track =>
  aTrack({ id: 'track-2', name: 'Second', start: { kind: 'free', x: 0, y }, end: { kind: 'free', x: 2000, y } })

/** Four quarters of one radius without easements: a circle about the origin. */
function circle(id: string, radiusMm: number): Track {
  const at = [
    [radiusMm, -radiusMm],
    [radiusMm, radiusMm],
    [-radiusMm, radiusMm],
    [-radiusMm, -radiusMm],
  ] as const
  return aTrack({
    id,
    name: id,
    start: { kind: 'free', x: 0, y: -radiusMm },
    corners: at.map(([x, y], i) => ({ id: `pi-${i + 1}`, x, y, radius: radiusMm, easementIn: 0, easementOut: 0 })),
    end: { kind: 'closed' },
  })
}

/*
 * How far a car reaches on a circle, by Pythagoras alone: its truck pivots stand half a wheelbase's chord inside the rail circle, its middle
 * line half a chord of the pivots inside that. Inside its middle reaches farthest, outside its corners.
 */
function reachOnCircle(radiusMm: number): { readonly insideMm: number; readonly outsideMm: number } {
  const middle = Math.sqrt(radiusMm ** 2 - (car.truckWheelbaseMm / 2) ** 2 - (car.truckCentresMm / 2) ** 2)
  return {
    insideMm: radiusMm - middle + car.widthMm / 2,
    outsideMm: Math.hypot(middle + car.widthMm / 2, car.lengthMm / 2) - radiusMm,
  }
}

function between(plan: Plan, stationMm: number, network: Network = networkOf(plan)) {
  const found = betweenTracks(network, 'track-1', stationMm, 'track-2')
  if (found === null) throw new Error('nothing between the tracks')
  return found
}

describe('between two tracks', () => {
  it('straight ones leave their centres without half a car of each', () => {
    const found = between(withTracks([aTrack(), beside(60)]), 900)
    expect(found).toMatchObject({ centresMm: 60, from: { x: 900, y: 0 }, to: { x: 900, y: 60 } })
    expect(found.clearMm).toBeCloseTo(60 - car.widthMm, 9)
  })

  it('it is the same from either side, and less than nothing where cars overlap', () => {
    const plan = withTracks([aTrack(), beside(-30)])
    expect(between(plan, 900).clearMm).toBeCloseTo(30 - car.widthMm, 9)
    const back = betweenTracks(networkOf(plan), 'track-2', 900, 'track-1')
    expect(back?.clearMm).toBeCloseTo(30 - car.widthMm, 9)
  })

  it('on circles the outer end of one car comes to meet the middle of the other', () => {
    const [inner, outer] = [circle('track-1', 600), circle('track-2', 670)]
    const plan = withTracks([inner, outer])
    const network = networkOf(plan)
    const asked = 70 - reachOnCircle(600).outsideMm - reachOnCircle(670).insideMm
    const path = network.tracks.get('track-1')?.alignment
    const lengthMm = path?.ok === true ? path.path.lengthMm : 0
    expect(lengthMm).toBeCloseTo(2 * Math.PI * 600, 6)
    // Round the seam of the loop too.
    for (const stationMm of [0, 1, 700, lengthMm - 1, lengthMm]) {
      const found = between(plan, stationMm, network)
      expect(found.centresMm).toBeCloseTo(70, 6)
      expect(Math.abs((found.clearMm ?? Number.NaN) - asked)).toBeLessThan(0.02)
    }
  })

  it('without cars of a class it tells centres only; without a line, or beyond it, nothing', () => {
    const plan = withTracks([aTrack(), beside(60)], false)
    expect(between(plan, 900)).toMatchObject({ centresMm: 60, clearMm: null })
    expect(betweenTracks(networkOf(plan), 'track-1', 2001, 'track-2')).toBeNull()
    expect(betweenTracks(networkOf(plan), 'track-1', 900, 'track-9')).toBeNull()
  })

  it('a pinned one is measured once for a network, and anew for the next', () => {
    const of = { kind: 'centres', track: 'track-1', stationMm: 900, other: 'track-2' } as const
    const network = networkOf(withTracks([aTrack(), beside(60)]))
    expect(readingMeasure(of, network)).toBe(readingMeasure(of, network))
    expect(readingMeasure(of, networkOf(withTracks([aTrack(), beside(64)])))).toMatchObject({ kind: 'between', centresMm: 64 })
  })
})
