import { describe, expect, test } from 'vitest'
import type { Plan } from '../../../src/core/plan/index.ts'
import { gaugeByKey } from '../../../src/core/standards/index.ts'
import { onlyFinding, planFindings } from '../../support/checks.ts'
import { aCrossing, aTrack, aTurnout, planWith } from '../../support/plans.ts'

/** Main along +x through (1000, 0); a second track through the same place, turned by so much, this far to either side. */
function crossed(angleRad: number, halfMm = 900, change: Parameters<typeof planWith>[0] = {}): Plan {
  const [dx, dy] = [halfMm * Math.cos(angleRad), halfMm * Math.sin(angleRad)]
  const across = aTrack({ id: 'track-2', start: { kind: 'free', x: 1000 - dx, y: -dy }, end: { kind: 'free', x: 1000 + dx, y: dy } })
  return planWith({ tracks: [aTrack(), across], ...change })
}

const numberAngle = (number: number): number => 2 * Math.atan(1 / (2 * number))

describe('a place where two tracks cross', () => {
  test('is no finding where a diamond can be built', () => {
    expect(planFindings(crossed(Math.PI / 4))).toEqual([])
    expect(planFindings(crossed(Math.PI / 2))).toEqual([])
  })

  test('says why where none can', () => {
    const finding = onlyFinding(crossed(Math.PI / 4, 12), 'crossing-build')
    expect(finding).toMatchObject({
      severity: 'error',
      table: 'crossings',
      record: 'track-1:track-2:1',
      problem: { kind: 'crossingUnbuilt', problem: { kind: 'trackTooShort', track: 'second' } },
    })
    expect(finding.x).toBeCloseTo(1000, 6)
  })

  test('warns of elbow frogs that guide no wheel any more, until they are movable', () => {
    const finding = onlyFinding(crossed(numberAngle(10)), 'crossing-build')
    expect(finding).toMatchObject({ severity: 'warning', problem: { kind: 'elbowUnguarded' } })
    expect(finding.measured ?? 0).toBeGreaterThan(finding.limit ?? Infinity)
    const movable = aCrossing({ build: { elbow: 'movable', pointThicknessMm: 'standard', heelSpreadMm: 'standard' } })
    expect(planFindings(crossed(numberAngle(10), 900, { crossings: [movable] }))).toEqual([])
  })

  test.each([Math.PI / 2, Math.PI / 5])('has check dimensions like a turnout: a flangeway laid wrong is found once a route', (angleRad) => {
    const plan = crossed(angleRad)
    const wide = { ...plan, railway: { ...plan.railway, flangewayMm: plan.railway.flangewayMm + 0.3 } }
    const found = planFindings(wide).filter(({ rule }) => rule === 'check-dimensions')
    const flangeways = found.filter(({ problem }) => problem?.kind === 'checkDimension' && problem.dimension === 'wing-flangeway')
    expect(flangeways.map(({ problem }) => (problem?.kind === 'checkDimension' ? problem.route : null))).toEqual(['straight', 'other'])
    for (const { table, record, severity, measured, limit } of flangeways) {
      expect([table, record, severity]).toEqual(['crossings', 'track-1:track-2:1', 'error'])
      expect(measured).toBeCloseTo(plan.railway.flangewayMm + 0.3, 6)
      // [NMRA-S-3.2-2010] HO: .048 in, at most .002 in more.
      expect(limit).toBeCloseTo(0.05 * 25.4, 6)
    }
  })

  test('warns where the scale leaves check rails on both sides no place', () => {
    const plan = crossed(Math.PI / 2)
    const z = gaugeByKey('Z')
    if (z === null) throw new Error('no scale Z')
    const { gaugeMm, checkGaugeMm, flangewayMm, ratio } = z
    const found = planFindings({ ...plan, railway: { ...plan.railway, scaleKey: 'Z', gaugeMm, checkGaugeMm, flangewayMm, ratio } })
    expect(found.map(({ rule, severity }) => [rule, severity])).toEqual([
      ['check-dimensions', 'warning'],
      ['check-dimensions', 'warning'],
    ])
    for (const { problem } of found) expect(problem).toMatchObject({ dimension: 'check-gauge', gaugeMm: expect.closeTo(6.6, 9) })
  })

  test('is found in the way of a turnout', () => {
    const plan = crossed(Math.PI / 4, 900, { turnouts: [aTurnout({ stationMm: 960, hand: 'right' })] })
    expect(planFindings(plan).map(({ rule, problem }) => [rule, problem?.kind])).toContainEqual(['turnout-place', 'turnoutOverCrossing'])
  })

  test('is found in the way of another', () => {
    const second = aTrack({ id: 'track-3', start: { kind: 'free', x: 1018, y: -900 }, end: { kind: 'free', x: 1018, y: 900 } })
    const plan = crossed(Math.PI / 2)
    const findings = planFindings({ ...plan, tracks: { ...plan.tracks, 'track-3': second } })
    expect(findings.map(({ problem }) => problem?.kind)).toContain('crossingsOverlap')
  })
})
