import { describe, expect, it } from 'vitest'
import { joistCrossings, throwPlaces } from '../../../../src/core/deliver/bench/risers.ts'
import type { Joist } from '../../../../src/core/plan/index.ts'
import { benchSet, derivedOf, strokesOf, textsOf } from '../../../support/benchSheets.ts'
import { aBenchwork, aTrack, aTurnout, planWith } from '../../../support/plans.ts'
import { box } from '../../../support/rooms.ts'

const joist = (id: string, x: number): Joist => ({ id, name: `Joist ${id}`, from: { x, y: -100 }, to: { x, y: 200 }, widthMm: 40 })

/** A straight of 2 m along the x axis with a turnout at 300 mm, and joists across it. */
const planOf = (...joists: readonly Joist[]) =>
  planWith({
    tracks: [aTrack({ end: { kind: 'free', x: 2000, y: 0 } })],
    turnouts: [aTurnout({ stationMm: 300 })],
    benchworks: [aBenchwork({ outline: box(-100, -200, 2100, 300), heightMm: 1100 })],
    joists,
  })

describe('the map of joists and risers', () => {
  it('finds tracks over timber by their places', () => {
    const found = joistCrossings(derivedOf(planOf(joist('a', 1200), joist('b', 1700))))
    expect(found.map(({ track, joist: { id } }) => `${track} ${id}`)).toHaveLength(2)
    for (const [i, x] of [1200, 1700].entries()) {
      expect(found[i]?.alongMm).toBeCloseTo(100, 6)
      expect(found[i]?.stationMm).toBeCloseTo(x, 6)
      expect(found[i]?.at.x).toBeCloseTo(x, 6)
    }
  })

  it('tells how far a throw hole is from timber, and that it is in it', () => {
    const [far] = throwPlaces(derivedOf(planOf(joist('a', 800))))
    const at = far?.at ?? { x: NaN, y: NaN }
    expect(far?.clearMm).toBeCloseTo(800 - at.x - 20 - (far?.drillMm ?? NaN) / 2, 9)
    const derived = derivedOf(planOf(joist('a', at.x)))
    const [near] = throwPlaces(derived)
    expect(near?.clearMm).toBeCloseTo(-20 - (far?.drillMm ?? NaN) / 2, 9)
    expect(textsOf(benchSet(derived, 'risers'))).toContain('in the timber')
  })

  it('draws timber at its size and place', () => {
    const set = benchSet(derivedOf(planOf(joist('a', 1200), joist('b', 1700))), 'risers')
    const scale = set.sheets[0]?.toPage.scaleX ?? NaN
    const timber = strokesOf(set).filter(({ fill, isClosed }) => isClosed && fill === 0.9)
    expect(timber).toHaveLength(2)
    const [a, b] = timber
    expect(((b?.start.x ?? 0) - (a?.start.x ?? 0)) / scale).toBeCloseTo(500, 6)
    const [side, end] = [a?.segments[0]?.to, a?.segments[1]?.to]
    expect(Math.hypot((side?.x ?? 0) - (a?.start.x ?? 0), (side?.y ?? 0) - (a?.start.y ?? 0)) / scale).toBeCloseTo(300, 6)
    expect(Math.hypot((end?.x ?? 0) - (side?.x ?? 0), (end?.y ?? 0) - (side?.y ?? 0)) / scale).toBeCloseTo(40, 6)
    expect(textsOf(set)).toContain('1100 mm')
  })
})
