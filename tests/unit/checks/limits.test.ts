import { describe, expect, test } from 'vitest'
import { pipelineCreate } from '../../../src/core/pipeline/index.ts'
import type { Plan, Track, Turnout } from '../../../src/core/plan/index.ts'
import { lengthParse } from '../../../src/core/units/index.ts'
import { onlyFinding, planFindings } from '../../support/checks.ts'
import { aCorner, aTrack, aTurnout, planWith } from '../../support/plans.ts'

const typed = (text: string): number => {
  const result = lengthParse(text, { bare: 'in' })
  if (!result.ok) throw new Error(text)
  return result.mm
}

const straight = (y: number, change: Partial<Track> = {}): Track =>
  aTrack({ start: { kind: 'free', x: 0, y }, end: { kind: 'free', x: 4000, y }, ...change })

describe('at the very limit nothing is told', () => {
  test.each(['32 in', '32"', `2' 8"`, '2 ft 8 in', '2.66666666666667 ft', '81.28 cm', '812.8 mm'])('a radius typed as %s', (text) => {
    const corner = aCorner({ x: 2000, radius: typed(text) })
    expect(planFindings(planWith({ tracks: [aTrack({ corners: [corner], end: { kind: 'free', x: 3000, y: 1500 } })] }))).toEqual([])
  })

  test('tracks at just what their cars ask, wherever the plan lies', () => {
    // HO, the class's car is 34.99 wide and 6.416 is kept between two.
    const asked = 34.99 + 6.416
    for (const y of [0, 1234.5678, -99_999.123]) {
      const beside = (apart: number): Plan => planWith({ tracks: [straight(y), straight(y + apart, { id: 'track-2' })] })
      expect(planFindings(beside(asked))).toEqual([])
      expect(onlyFinding(beside(asked - 0.01), 'track-clearance').measured).toBeCloseTo(6.416 - 0.01, 6)
    }
  })
})

describe('turnouts one against another', () => {
  const on = (...turnouts: readonly Turnout[]): Plan => planWith({ tracks: [straight(0)], turnouts })
  const geometry = pipelineCreate().derive(on(aTurnout())).network.turnouts.get('turnout-1')?.result.geometry
  if (geometry === null || geometry === undefined) throw new Error('the turnout has no geometry')
  const { fromMm, toMm } = geometry.extent
  const { overallMm } = geometry

  test.each<[string, Partial<Turnout>, Partial<Turnout>]>([
    ['end to end', { stationMm: 1000 }, { stationMm: 1000 + toMm - fromMm }],
    ['end to end, of the other hand', { stationMm: 1000 }, { stationMm: 1000 + toMm - fromMm, hand: 'right' }],
    ['toe to toe', { stationMm: 1000, facing: 'falling' }, { stationMm: 1000 - 2 * fromMm }],
    // Frog ends that look at each other share their long ties; only the rails must not meet.
    ['heel to heel on two sides', { stationMm: 1000 }, { stationMm: 1000 + 2 * overallMm, facing: 'falling', hand: 'left' }],
    ['at both ends of their track', { stationMm: -fromMm }, { stationMm: 4000 + fromMm, facing: 'falling' }],
  ])('%s have their place, and a tenth nearer they have not', (_, first, second) => {
    const other = { id: 'turnout-2', ...second }
    expect(planFindings(on(aTurnout(first), aTurnout(other))).filter(({ rule }) => rule === 'turnout-place')).toEqual([])
    const isRising = (second.stationMm ?? 0) < 3000
    const nearer = { ...other, stationMm: (second.stationMm ?? 0) + (isRising ? -0.1 : 0.1) }
    const found = planFindings(on(aTurnout(first), aTurnout(nearer))).filter(({ rule }) => rule === 'turnout-place')
    expect(found).toHaveLength(1)
  })
})

describe('a track that curves at once behind its leg', () => {
  const leg = pipelineCreate()
    .derive(planWith({ tracks: [straight(0)], turnouts: [aTurnout()] }))
    .network.turnouts.get('turnout-1')?.result
  if (leg?.ok !== true) throw new Error('the turnout has no place')
  const { x, y, headingRad } = leg.leg
  const ahead = { x: x + 300, y: y + 300 * Math.tan(headingRad) }

  test.each([
    ['away', { x: x + 900, y: y + 700 }],
    ['back beside its host', { x: x + 1500, y: ahead.y }],
  ])('%s is not too near the host that it leaves', (_, end) => {
    for (const easement of [0, 'class'] as const) {
      const guest = aTrack({
        id: 'track-2',
        lineClass: 'yard',
        start: { kind: 'leg', turnout: 'turnout-1', leg: 'diverging' },
        corners: [aCorner({ ...ahead, easementIn: easement, easementOut: easement })],
        end: { kind: 'free', ...end },
      })
      const plan = planWith({ tracks: [straight(0), guest], turnouts: [aTurnout()] })
      expect(planFindings(plan).filter(({ rule }) => rule === 'track-clearance')).toEqual([])
    }
  })
})
