import { describe, expect, it } from 'vitest'
import { pathOffset } from '../../../src/core/geom/index.ts'
import { gaugeByKey, gaugeList, railwayForGauge } from '../../../src/core/standards/index.ts'
import { checkDimensions, checkStandard, turnoutMirror } from '../../../src/core/turnout/index.ts'
import type { CheckDimension, CheckDimensionKind, TurnoutGeometry, TurnoutRail } from '../../../src/core/turnout/index.ts'
import { inch, requestOfScale, solved } from '../../support/turnouts.ts'

function measured(turnout: TurnoutGeometry, key: string, rails = turnout.rails): readonly CheckDimension[] {
  const row = gaugeByKey(key)
  if (!row) throw new Error(`no scale ${key}`)
  return checkDimensions({ ...turnout, rails, measures: turnout.request }, checkStandard(railwayForGauge(row)))
}

const outside = (rows: readonly CheckDimension[]): readonly string[] =>
  rows.filter(({ isWithin }) => !isWithin).map(({ kind, route, valueMm }) => `${kind} ${route} ${valueMm}`)

describe.each(gaugeList().map(({ key }) => key))('a turnout as %s asks for it', (key) => {
  it('has every check dimension within the printed limits, No. 4 to 20, either form of points', () => {
    for (const frog of [4, 6, 10, 20]) {
      for (const points of ['straight', 'curved'] as const) {
        expect(outside(measured(solved(requestOfScale(key, frog, points)), key)), `No. ${frog} ${points}`).toEqual([])
      }
    }
  })
})

describe('check dimensions in HO', () => {
  const right = solved(requestOfScale('HO', 6, 'straight'))
  const rows = measured(right, 'HO')
  const valueOf = (kind: CheckDimensionKind, of = rows): readonly (number | null)[] =>
    of.filter((row) => row.kind === kind).map(({ valueMm }) => valueMm)

  /** Targets of [NMRA-S-3.2-2010], inches; the span is what check gauge and flangeway leave, two thousandths over its target. */
  it.each([
    ['gauge', 0.651],
    ['check-gauge', 0.607],
    ['span', 0.559],
    ['wing-flangeway', 0.048],
    ['guard-flangeway', 0.044],
  ] as const)('%s is %d in on both routes', (kind, inches) => {
    const values = valueOf(kind)
    expect(values).toHaveLength(2)
    for (const value of values) expect(value).toBeCloseTo(inches * inch, 6)
  })

  it('are the same in the mirror', () => {
    const mirrored = measured(turnoutMirror(right), 'HO')
    expect(mirrored.map(({ kind }) => kind)).toEqual(rows.map(({ kind }) => kind))
    mirrored.forEach(({ valueMm }, i) => expect(valueMm).toBeCloseTo(rows[i]?.valueMm ?? NaN, 6))
  })

  const moved = (role: TurnoutRail['role'], mm: number): readonly CheckDimension[] =>
    measured(
      right,
      'HO',
      right.rails.map((rail) => (rail.role === role ? { ...rail, gaugeLine: pathOffset(rail.gaugeLine, rail.headSide * mm) } : rail)),
    )
  const failing = (of: readonly CheckDimension[]): ReadonlySet<CheckDimensionKind> =>
    new Set(of.filter(({ isWithin }) => !isWithin).map(({ kind }) => kind))

  it('tell which face is wrong, and by how much', () => {
    expect([...failing(moved('guard-straight', 0.5))]).toEqual(['check-gauge'])
    expect(valueOf('check-gauge', moved('guard-straight', 0.5))[0]).toBeCloseTo(0.607 * inch - 0.5, 6)
    expect([...failing(moved('guard-straight', -0.5))]).toEqual(['check-gauge', 'span', 'guard-flangeway'])
    expect([...failing(moved('wing-curved', -0.6))]).toContain('wing-flangeway')
    expect([...failing(moved('wing-curved', 0.1))]).toContain('wing-flangeway')
    expect([...failing(moved('stock-curved', 0.3))]).toContain('gauge')
    expect([...failing(moved('stock-straight', -0.1))]).toContain('gauge')
  })

  it('miss a guard rail that is not there', () => {
    const none = measured(
      right,
      'HO',
      right.rails.filter(({ role }) => role !== 'guard-curved'),
    )
    const missing = none.filter(({ valueMm }) => valueMm === null)
    expect(missing.map(({ kind, route, isWithin }) => [kind, route, isWithin])).toEqual([
      ['check-gauge', 'curved', false],
      ['span', 'curved', false],
      ['guard-flangeway', 'curved', false],
    ])
  })

  it('know a scale of one’s own by what its railway is laid to', () => {
    const row = gaugeByKey('HO')
    if (!row) throw new Error('no HO')
    const own = checkStandard({ ...railwayForGauge(row), scaleKey: 'custom' })
    expect(own.source).toBe('railway')
    const work = { ...right, measures: right.request }
    expect(outside(checkDimensions(work, own))).toEqual([])
    const asked = checkStandard({ ...railwayForGauge(row), scaleKey: 'custom', checkGaugeMm: row.checkGaugeMm + 0.01 })
    expect(outside(checkDimensions(work, asked)).length).toBeGreaterThan(0)
  })
})
