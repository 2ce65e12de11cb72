import { describe, expect, it } from 'vitest'
import { pathOffset } from '../../../src/core/geom/index.ts'
import { checkDimensions, checkStandard, crossingChecked } from '../../../src/core/turnout/index.ts'
import type { CheckDimension, CrossingGeometry } from '../../../src/core/turnout/index.ts'
import { crossed, crossingRequest } from '../../support/crossings.ts'
import { requestOfScale, solved } from '../../support/turnouts.ts'

const base = requestOfScale('HO', 6, 'straight')
const standard = checkStandard({ ...base, scaleKey: 'HO' })
const diamond = (
  number: number,
  slip: 'none' | 'single-left' | 'double' = 'none',
  elbow: 'fixed' | 'movable' = 'fixed',
): CrossingGeometry => crossed(crossingRequest(2 * Math.atan(1 / (2 * number)), { slip, elbow }, base))
const rowsOf = (crossing: CrossingGeometry): readonly CheckDimension[] => checkDimensions(crossingChecked(crossing), standard)
const failing = (crossing: CrossingGeometry): readonly string[] =>
  rowsOf(crossing).flatMap(({ kind, isWithin }) => (isWithin ? [] : [kind]))

describe('check dimensions of a diamond, between its faces', () => {
  it.each([1.2, 2, 3, 4, 5])('No. %d is within the standard on both tracks, four frogs each', (number) => {
    const rows = rowsOf(diamond(number))
    expect(rows.filter(({ isWithin }) => !isWithin)).toEqual([])
    for (const route of ['straight', 'other'] as const) {
      expect(rows.filter((row) => row.route === route && row.kind === 'check-gauge')).toHaveLength(2)
      expect(rows.filter((row) => row.route === route && row.kind === 'elbow-open')).toHaveLength(2)
    }
  })

  it.each([2, 4, 6, 8])('No. %d: what is measured as open in an elbow is what is derived for it', (number) => {
    const crossing = diamond(number)
    // The bend of the check rail is rounded by tangents of a rail head; the gap is told in 120 steps.
    for (const { valueMm } of rowsOf(crossing).filter(({ kind }) => kind === 'elbow-open'))
      expect(Math.abs((valueMm ?? NaN) - crossing.unguardedMm)).toBeLessThan(1.5 * base.railHeadMm)
  })

  it('flat elbows that guide no wheel fail, movable ones are not measured', () => {
    expect(new Set(failing(diamond(9)))).toEqual(new Set(['elbow-open']))
    expect(rowsOf(diamond(9, 'none', 'movable')).some(({ kind }) => kind.startsWith('elbow'))).toBe(false)
  })

  it('a check rail set too near to its rail, and one that is missing, are found', () => {
    // No. 5: the whole gap of an elbow is longer than a wheel spans.
    const crossing = diamond(5)
    const changed = (change: (rail: CrossingGeometry['rails'][number]) => CrossingGeometry['rails']): CrossingGeometry => ({
      ...crossing,
      rails: crossing.rails.flatMap((rail) => (rail.role.startsWith('check') ? change(rail) : [rail])),
    })
    expect(failing(changed((rail) => [{ ...rail, gaugeLine: pathOffset(rail.gaugeLine, -rail.headSide * 0.5) }]))).toContain(
      'elbow-flangeway',
    )
    expect(new Set(failing(changed(() => [])))).toEqual(new Set(['elbow-flangeway', 'elbow-open']))
  })

  it.each([4, 5])('double and single slips No. %d are within the standard on all ways', (number) => {
    for (const slip of ['single-left', 'double'] as const) expect(failing(diamond(number, slip))).toEqual([])
  })
})

it('three-way turnouts are within it too, both switches at one place: each frog is measured to the guard rail across the gauge', () => {
  for (const frog of [6, 8]) {
    const turnout = solved({ ...requestOfScale('HO', frog, 'straight'), kind: { kind: 'three-way', secondFrog: frog, secondAfterMm: 0 } })
    const rows = checkDimensions({ ...turnout, measures: turnout.request }, standard)
    expect(rows.filter(({ kind }) => kind === 'check-gauge')).toHaveLength(6)
    expect(rows.filter(({ isWithin }) => !isWithin)).toEqual([])
  }
})

it('a double slip in whose elbows no check rail has room says so, and is measured so', () => {
  // In N flangeways are wide for the gauge: the rails of the slips stand where the check rails would.
  const n = requestOfScale('N', 6, 'straight')
  const crossing = crossed(crossingRequest(2 * Math.atan(1 / 12), { slip: 'double' }, n))
  expect(crossing.rails.some(({ role }) => role.startsWith('check'))).toBe(false)
  expect(crossing.unguardedMm).toBeGreaterThan(crossing.guidedMm)
  const rows = checkDimensions(crossingChecked(crossing), checkStandard({ ...n, scaleKey: 'N' }))
  const open = rows.filter(({ kind }) => kind === 'elbow-open')
  expect(open.length).toBeGreaterThan(0)
  for (const { isWithin, valueMm } of open) {
    expect(isWithin).toBe(false)
    expect(valueMm).toBeCloseTo(crossing.unguardedMm, 6)
  }
})
