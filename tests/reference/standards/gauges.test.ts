import { describe, expect, it } from 'vitest'
import { gaugeByKey, type GaugeLimit, type GaugeRow } from '../../../src/core/standards/index.ts'
import { scaleRatioFromMmPerFoot } from '../../../src/core/units/index.ts'
import { expectMeets, referenceRows, referenceValue, type ReferenceRow } from '../../support/reference.ts'

function rowOf(key: string): GaugeRow {
  const row = gaugeByKey(key)
  if (!row) throw new Error(`no scale ${key}`)
  return row
}

const columns = {
  gauge: 'gauge',
  check_gauge: 'checkGauge',
  span: 'span',
  flangeway: 'flangeway',
  points_spread: 'pointsSpread',
} as const satisfies Record<string, keyof GaugeRow['limits']>

describe('S-3.2 of 2010: targets with their tolerances', () => {
  for (const row of referenceRows('gauges', { idPrefix: 's32-2010-' })) {
    const scale = row.id.replace('s32-2010-', '')
    it(`${scale} carries every printed target, and limits where the print puts them`, () => {
      const ours = rowOf(scale)
      expectMeets(row, 'ratio', ours.ratio)
      for (const [printed, limit] of Object.entries(columns)) {
        const { value, plus, minus } = referenceValue(row, printed)
        // A nanometre: our tables round there.
        expect(ours.limits[limit].targetMm).toBeCloseTo(value, 6)
        expect(ours.limits[limit].minMm).toBeCloseTo(value - minus, 5)
        expect(ours.limits[limit].maxMm).toBeCloseTo(value + plus, 5)
      }
      expect(ours.limits.flangewayDepth.minMm).toBeCloseTo(referenceValue(row, 'flangeway_depth_min').value, 6)
      expectMeets(row, 'gauge', ours.gaugeMm)
      expectMeets(row, 'check_gauge', ours.checkGaugeMm)
      expectMeets(row, 'flangeway', ours.flangewayMm)
    })
  }
})

/** Compares a `name_min`/`name_max` column with a limit of ours. */
function expectLimit(row: ReferenceRow, column: string, ours: number | null): void {
  expect(ours, `${row.id} ${column}`).toBeCloseTo(referenceValue(row, column).value, 6)
}

describe('limits of the older S-3.2, S-3.1 and RP-3', () => {
  const keys: Readonly<Record<string, string>> = {
    's32old-#1': '1',
    's31-Proto20_3': 'P20',
    's31-Proto32': 'P32',
    's31-Proto48': 'P48',
    'rp3-HO-Fine': 'HO-fine',
    'rp3-N-Fine': 'N-fine',
    'rp3-S-Fine': 'S-fine',
  }
  const limits: Readonly<Record<string, (limits: GaugeRow['limits']) => number | null>> = {
    gauge_min: ({ gauge }) => gauge.minMm,
    gauge_max: ({ gauge }) => gauge.maxMm,
    check_gauge_min: ({ checkGauge }) => checkGauge.minMm,
    check_gauge_max: ({ checkGauge }) => checkGauge.maxMm,
    span_min: ({ span }) => span.minMm,
    span_max: ({ span }) => span.maxMm,
    flangeway_max: ({ flangeway }) => flangeway.maxMm,
    flangeway_frog_min: ({ flangeway }) => flangeway.minMm,
    flangeway_frog_max: ({ flangeway }) => flangeway.maxMm,
    switchpoint_spread_max: ({ pointsSpread }) => pointsSpread.maxMm,
    flange_clearance_min: ({ flangewayDepth }) => flangewayDepth.minMm,
    flange_depth: ({ flangewayDepth }) => flangewayDepth.minMm,
  }
  for (const [id, key] of Object.entries(keys)) {
    it(`${key} keeps the printed limits of ${id}`, () => {
      const row = referenceRows('gauges', { idPrefix: id })[0]
      if (!row) throw new Error(id)
      const ours = rowOf(key)
      const checked = row.expected.filter(({ name }) => limits[name])
      expect(checked.length).toBeGreaterThanOrEqual(5)
      for (const { name } of checked) expectLimit(row, name, limits[name]?.(ours.limits) ?? null)
    })
  }
})

describe('NEM', () => {
  const keys: Readonly<Record<string, string>> = { Z: 'Z', N: 'N', H0: 'H0', '0': '0', I: '1' }
  for (const [size, key] of Object.entries(keys)) {
    it(`${size} has the scale and gauge of NEM 010`, () => {
      const row = referenceRows('gauges', { idPrefix: `nem010-${size}` }).find(({ id }) => id === `nem010-${size}`)
      if (!row) throw new Error(size)
      expectMeets(row, 'ratio', rowOf(key).ratio)
      expectMeets(row, 'gauge', rowOf(key).gaugeMm)
    })
  }

  for (const size of ['Z', 'N']) {
    it(`${size} is guided as NEM 110 says`, () => {
      const row = referenceRows('gauges', { idPrefix: `nem110-${size}` })[0]
      if (!row) throw new Error(size)
      const { limits } = rowOf(size)
      const pairs: readonly (readonly [string, number | null])[] = [
        ['G_max', limits.gauge.maxMm],
        ['C_min', limits.checkGauge.minMm],
        ['C_max', limits.checkGauge.maxMm],
        ['S_min', limits.span.minMm],
        ['S_max', limits.span.maxMm],
        ['F_min', limits.flangeway.minMm],
        ['F_max', limits.flangeway.maxMm],
        ['H_min', limits.flangewayDepth.minMm],
      ]
      for (const [column, ours] of pairs) expectLimit(row, column, ours)
    })
  }

  it('H0 is guided as the 16.5 mm gauge tool says', () => {
    const row = referenceRows('gauges', { idPrefix: 'nem310-4-HO' })[0]
    if (!row) throw new Error('row')
    const ours = rowOf('H0')
    expectMeets(row, 'G_min', ours.gaugeMm)
    expectMeets(row, 'G_max', ours.limits.gauge.maxMm ?? NaN)
    expectMeets(row, 'S_max', ours.spanMm ?? NaN)
    expectMeets(row, 'C_min', ours.checkGaugeMm)
    expectMeets(row, 'F_min', ours.flangewayMm)
  })

  it('a scale in millimetres to the foot gives the ratio that NEM 010 names', () => {
    for (const row of referenceRows('gauges', { idPrefix: 'mmft-' })) {
      const input = row.inputs['scale'] as { readonly value: number }
      expectMeets(row, 'ratio', scaleRatioFromMmPerFoot(input.value))
    }
  })
})

describe('the targets of 2010', () => {
  /** Both editions print these scales. */
  const scales = ['O', 'On2', 'S', 'HO'].filter((scale) => gaugeByKey(scale) !== null)
  it.each(scales)('%s lie within the limits of the edition before', (scale) => {
    const row = referenceRows('gauges', { idPrefix: `s32old-${scale}` }).find(({ id }) => id === `s32old-${scale}`)
    if (!row) throw new Error(scale)
    const { gaugeMm, checkGaugeMm, spanMm, flangewayMm } = rowOf(scale)
    const limit = (name: string): number => referenceValue(row, name).value
    expect(gaugeMm).toBeGreaterThanOrEqual(limit('gauge_min') - 1e-9)
    expect(gaugeMm).toBeLessThanOrEqual(limit('gauge_max'))
    expect(checkGaugeMm).toBeGreaterThanOrEqual(limit('check_gauge_min') - 1e-9)
    expect(spanMm ?? NaN).toBeLessThanOrEqual(limit('span_max') + 1e-9)
    expect(flangewayMm).toBeLessThanOrEqual(limit('flangeway_max'))
  })
})

describe('wheels run on the track', () => {
  /** Rule of both standards: wheel check gauge at most the track's, wheel back to back at least the track's span. */
  const wheels: Readonly<Record<string, string>> = {
    's42-#1': '1',
    's42-O': 'O',
    's42-On3': 'On3',
    's42-S': 'S',
    's42-Sn3': 'Sn3',
    's42-HO': 'HO',
    's42-HOn2': 'HOn2',
  }
  for (const [id, key] of Object.entries(wheels)) {
    it(`${key} lets the wheels of S-4.2 through its frogs`, () => {
      const row = referenceRows('gauges', { idPrefix: id }).find((one) => one.id === id)
      if (!row) throw new Error(id)
      const { limits } = rowOf(key)
      const within = (limit: GaugeLimit): number => limit.maxMm ?? NaN
      expect(referenceValue(row, 'check_gauge_max').value).toBeLessThanOrEqual((limits.checkGauge.minMm ?? NaN) + 1e-9)
      expect(referenceValue(row, 'back_to_back_min').value).toBeGreaterThanOrEqual(within(limits.span))
    })
  }

  // Where NEM guides the track, its own wheels run on it; those of S-4.2 would not. H0 keeps the gauge tool of 2002, wheels and track alike.
  const nemWheels: Readonly<Record<string, string>> = { 'nem310-Z': 'Z', 'nem310-TT': 'TT', 'nem310-4-HO': 'H0' }
  for (const [id, key] of Object.entries(nemWheels)) {
    it(`${key} lets the wheels of NEM 310 through its frogs`, () => {
      const row = referenceRows('gauges', { idPrefix: id }).find((one) => one.id === id)
      if (!row) throw new Error(id)
      const { checkGauge, span } = rowOf(key).limits
      expect(referenceValue(row, 'K_max').value).toBeLessThanOrEqual((checkGauge.minMm ?? NaN) + 1e-9)
      expect(referenceValue(row, 'B_min').value).toBeGreaterThan(span.maxMm ?? NaN)
    })
  }
})
