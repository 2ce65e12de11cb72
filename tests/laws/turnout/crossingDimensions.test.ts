import { describe, expect, it } from 'vitest'
import { pathOffset } from '../../../src/core/geom/index.ts'
import {
  checkDimensions,
  checkFlangewayWithin,
  checkStandard,
  crossingChecked,
  gaugeOfBothChecks,
} from '../../../src/core/turnout/index.ts'
import type { CheckDimension, CrossingGeometry } from '../../../src/core/turnout/index.ts'
import { crossed, crossingRequest } from '../../support/crossings.ts'
import { gaugeByKey } from '../../../src/core/standards/index.ts'
import { inch, requestOfScale, solved } from '../../support/turnouts.ts'

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
      // Two vees and two elbows.
      expect(rows.filter((row) => row.route === route && row.kind === 'check-gauge')).toHaveLength(4)
      expect(rows.filter((row) => row.route === route && row.kind === 'span')).toHaveLength(4)
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
    expect(new Set(failing(changed(() => [])))).toEqual(new Set(['elbow-flangeway', 'elbow-open', 'check-gauge']))
    // Half a millimetre farther off, and no wheel is kept off the nose any more.
    expect(failing(changed((rail) => [{ ...rail, gaugeLine: pathOffset(rail.gaugeLine, rail.headSide * 0.5) }]))).toContain('check-gauge')
  })

  it.each([4, 5])('double and single slips No. %d are within the standard on all ways', (number) => {
    for (const slip of ['single-left', 'double'] as const) expect(failing(diamond(number, slip))).toEqual([])
  })
})

describe('check dimensions of a steep diamond', () => {
  const steep = (degrees: number, scale = 'HO'): CrossingGeometry => {
    const own = requestOfScale(scale, 6, 'straight')
    const checkFlangewayMm = checkFlangewayWithin(checkStandard({ ...own, scaleKey: scale }), own, own.gaugeMm)
    return crossed(crossingRequest((degrees * Math.PI) / 180, { checkFlangewayMm }, own))
  }

  it.each([51, 60, 75, 90])('%d° is within the standard on both tracks over all four frogs', (degrees) => {
    const crossing = steep(degrees)
    const rows = rowsOf(crossing)
    expect(rows.filter(({ isWithin }) => !isWithin)).toEqual([])
    for (const route of ['straight', 'other'] as const) {
      for (const kind of ['check-gauge', 'guard-flangeway', 'wing-flangeway'] as const)
        expect(rows.filter((row) => row.route === route && row.kind === kind)).toHaveLength(4)
    }
    // Check rails on both sides: what [NMRA-S-3.2-2010] leaves, its least check gauge .605 in and its widest span .559 in, meet at one flangeway.
    for (const { kind, valueMm } of rows) {
      if (kind === 'check-gauge') expect(valueMm).toBeCloseTo(0.605 * inch, 6)
      if (kind === 'span') expect(valueMm).toBeCloseTo(0.559 * inch, 6)
      if (kind === 'wing-flangeway') expect(valueMm).toBeCloseTo(0.048 * inch, 6)
    }
  })

  it.each(['N', 'HO', 'S', 'H0', 'S-NEM', 'HO-fine', 'P48', 'EM', '1'])('keeps the limits of %s at any angle', (scale) => {
    for (const degrees of [15, 40, 55, 80]) {
      const rows = checkDimensions(
        crossingChecked(steep(degrees, scale)),
        checkStandard({ ...requestOfScale(scale, 6, 'straight'), scaleKey: scale }),
      )
      expect(rows.filter(({ isWithin, kind }) => !isWithin && kind !== 'elbow-open')).toEqual([])
    }
  })

  it('a flangeway that is wrong, a check rail set wrong or missing, and a gauge that is wide are found', () => {
    const right = steep(60)
    const changed = (part: string, change: (rail: CrossingGeometry['rails'][number]) => CrossingGeometry['rails']): CrossingGeometry => ({
      ...right,
      rails: right.rails.flatMap((rail) => (rail.role.startsWith(part) ? change(rail) : [rail])),
    })
    const moved = (part: string, mm: number): ReadonlySet<string> =>
      new Set(failing(changed(part, (rail) => [{ ...rail, gaugeLine: pathOffset(rail.gaugeLine, rail.headSide * mm) }])))
    expect(moved('check', 0.3)).toEqual(new Set(['check-gauge']))
    expect(moved('check', -0.4)).toEqual(new Set(['check-gauge', 'span', 'guard-flangeway']))
    expect(new Set(failing(changed('check', () => [])))).toEqual(new Set(['check-gauge', 'guard-flangeway']))
    const own = { ...base, flangewayMm: base.flangewayMm + 0.2 }
    expect(failing(crossed(crossingRequest(Math.PI / 3, {}, own)))).toContain('wing-flangeway')
    const tight = { ...base, flangewayMm: base.flangewayMm - 0.4 }
    expect(failing(crossed(crossingRequest(Math.PI / 3, {}, tight)))).toContain('wing-flangeway')
    const wide = { ...base, gaugeMm: base.gaugeMm + 0.4 }
    expect(failing(crossed(crossingRequest(Math.PI / 3, {}, wide)))).toContain('gauge')
  })

  it('where no flangeway keeps both, the span is kept, and the gauge that would do is named', () => {
    // Read from [NEM-110], gauge 6.5: check gauge 5.9 at least, span 5.2 at most; 2 x 5.9 - 5.2.
    const z = gaugeByKey('Z')
    if (z === null) throw new Error('no scale Z')
    const rows = checkDimensions(crossingChecked(steep(90, 'Z')), checkStandard({ ...z, scaleKey: 'Z' }))
    expect(new Set(rows.filter(({ isWithin }) => !isWithin).map(({ kind }) => kind))).toEqual(new Set(['check-gauge']))
    expect(gaugeOfBothChecks(checkStandard({ ...z, scaleKey: 'Z' }))).toBeCloseTo(6.6, 9)
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
