import { describe, expect, it } from 'vitest'
import {
  gaugeByKey,
  gaugeCustom,
  gaugeList,
  lineClassesForGauge,
  lineClassesForScale,
  railByCode,
  railwayForGauge,
  railwayForScale,
  type GaugeRow,
} from '../../../src/core/standards/index.ts'

const rowOf = (key: string): GaugeRow => {
  const row = gaugeByKey(key)
  if (!row) throw new Error(key)
  return row
}

describe('scales', () => {
  it('holds the usual scales and narrow gauges, each key once', () => {
    const keys = gaugeList().map(({ key }) => key)
    expect(new Set(keys).size).toBe(keys.length)
    const wanted = 'Z N 2mm TT HO H0 OO EM P4 P87 S S-NEM O 0 0-7mm 1 P48 Nn3 HOn3 HOn30 H0e H0m 009 Sn3 Sn2 On30 On3 On2 0e Gn15 Fn3'
    expect(keys).toEqual(expect.arrayContaining(wanted.split(' ')))
  })

  it('keeps HO and H0 apart and otherwise minds no capitals', () => {
    expect(rowOf('HO').ratio).toBe(87.1)
    expect(rowOf('H0').ratio).toBe(87)
    expect(rowOf('ho')).toBe(rowOf('HO'))
    expect(rowOf(' on30 ').key).toBe('On30')
    expect(gaugeByKey('QQ')).toBeNull()
    expect(gaugeByKey('')).toBeNull()
  })

  it('every row is finite, in order, and its gauge scales near to what it stands for', () => {
    for (const row of gaugeList()) {
      for (const value of [row.ratio, row.gaugeMm, row.flangewayMm, row.checkGaugeMm]) expect(Number.isFinite(value), row.key).toBe(true)
      expect(row.checkGaugeMm, row.key).toBeLessThan(row.gaugeMm)
      expect(row.checkGaugeMm, row.key).toBeGreaterThan(row.gaugeMm - 2 * row.flangewayMm)
      if (row.spanMm !== null) expect(row.spanMm, row.key).toBeLessThan(row.checkGaugeMm)
      // The widest compromises in use: 3 ft gauge on 6.5 mm at 1:160 (14 % wide), 16.5 mm at 1:76.2 (12 % narrow).
      expect(Math.abs((row.gaugeMm * row.ratio) / row.prototypeGaugeMm - 1), row.key).toBeLessThan(0.14)
    }
  })
})

describe('a scale and gauge of one’s own', () => {
  it('interpolates the guide dimensions between printed rows', () => {
    // Half way between 9 (F .85, G-C .9) and 12 (F .95, G-C 1.0).
    const made = gaugeCustom({ ratio: 140, gaugeMm: 10.5 })
    expect(made.ok && made.row.flangewayMm).toBeCloseTo(0.9, 12)
    expect(made.ok && made.row.checkGaugeMm).toBeCloseTo(10.5 - 0.95, 12)
    expect(made.ok && made.row.prototypeGaugeMm).toBe(1435)
    expect(made.ok && made.row.status).toBe('derived')
  })

  it('takes what is given and scales beyond the printed gauges', () => {
    const given = gaugeCustom({ ratio: 76.2, gaugeMm: 16.2, flangewayMm: 1, checkGaugeMm: 15.2 })
    expect(given.ok && [given.row.flangewayMm, given.row.checkGaugeMm]).toEqual([1, 15.2])
    const large = gaugeCustom({ ratio: 16, gaugeMm: 90 })
    expect(large.ok && large.row.flangewayMm).toBeCloseTo(2 * 2.692, 12)
    const small = gaugeCustom({ ratio: 450, gaugeMm: 3.25 })
    expect(small.ok && small.row.flangewayMm).toBeCloseTo(0.725 / 2, 12)
    const narrow = gaugeCustom({ ratio: 48, gaugeMm: 14 })
    expect(narrow.ok && narrow.row.prototypeGaugeMm).toBe(672)
  })

  it('says which value is wrong and what would be right', () => {
    expect(gaugeCustom({ ratio: 0, gaugeMm: 9 })).toMatchObject({ ok: false, where: 'ratio' })
    expect(gaugeCustom({ ratio: 87, gaugeMm: NaN })).toMatchObject({ ok: false, where: 'gaugeMm' })
    expect(gaugeCustom({ ratio: 87, gaugeMm: 16.5, flangewayMm: 5 })).toMatchObject({
      ok: false,
      where: 'flangewayMm',
      expected: 'more than 0 and under 4.13 mm',
    })
    expect(gaugeCustom({ ratio: 87, gaugeMm: 16.5, checkGaugeMm: 17 })).toMatchObject({ ok: false, where: 'checkGaugeMm' })
  })
})

describe('rail codes between the printed ones', () => {
  it('are interpolated in height and marked so', () => {
    // 60 lies a third of the way from 55 (.055, .028) to 70 (.070, .035).
    const rail = railByCode(60)
    expect(rail?.status).toBe('derived')
    expect(rail?.footMm).toBeCloseTo(0.06 * 25.4, 6)
    expect(rail?.headMm).toBeCloseTo((0.028 + 0.007 / 3) * 25.4, 5)
    expect(railByCode(594)?.headMm).toBeCloseTo(0.25 * 25.4, 6)
    expect(railByCode(16)?.headMm).toBeCloseTo(0.008 * 25.4, 6)
    for (const code of [0, -5, NaN, Infinity]) expect(railByCode(code)).toBeNull()
  })
})

describe('a railway and its line classes', () => {
  it('HO starts with scale ties, margins and the printed radii', () => {
    const railway = railwayForScale('HO')
    // 8 ft 6 in = 102 in, 9 in, 13 ft = 156 in; all x 25.4 / 87.1.
    expect(railway).toMatchObject({ tieLengthMm: 29.745, tieWidthMm: 2.625, foulingMm: 45.493, railCode: 83, frogDefinition: 'isosceles' })
    const classes = lineClassesForScale('HO') ?? []
    expect(classes.map(({ id }) => id)).toEqual(['main', 'branch', 'siding', 'yard'])
    expect(classes[0]).toMatchObject({ minRadiusMm: 812.8, minFrog: 6, easement: { kind: 'shift', shiftMm: 9.5 }, trackCentresMm: 50.7 })
    // 19.5 in x 25.4 / 87.1 = 5.69 mm
    expect(classes[0]?.tieSpacingMm).toBe(5.69)
  })

  it('slope-named turnouts belong to the European sizes', () => {
    expect(railwayForScale('H0')?.frogDefinition).toBe('tangent')
    for (const key of ['Z', 'N', 'TT', 'HO', 'O', '1']) expect(railwayForScale(key)?.frogDefinition).toBe('isosceles')
    expect(railwayForScale('nowhere')).toBeNull()
    expect(lineClassesForScale('nowhere')).toBeNull()
  })

  it('narrow gauge ties follow the gauge', () => {
    // 3 ft + 3 ft 6 in = 78 in x 25.4 / 48
    expect(railwayForScale('On3')?.tieLengthMm).toBe(41.275)
  })

  it('every scale gives finite, positive, ordered defaults', () => {
    for (const row of gaugeList()) {
      for (const [name, value] of Object.entries(railwayForGauge(row))) {
        if (typeof value === 'number') expect(value > 0 && Number.isFinite(value), `${row.key} ${name}`).toBe(true)
      }
      for (const line of lineClassesForGauge(row)) {
        expect(line.usualRadiusMm, row.key).toBeGreaterThanOrEqual(line.minRadiusMm)
        expect(line.usualFrog, row.key).toBeGreaterThanOrEqual(line.minFrog)
        expect(line.tieSpacingMm, row.key).toBeGreaterThan(railwayForGauge(row).tieWidthMm)
        // A turnout of the least frog is no sharper than half the class's own curves: R about 2 G N^2.
        expect(2 * row.gaugeMm * line.usualFrog ** 2, `${row.key} ${line.id}`).toBeGreaterThan(line.minRadiusMm / 2)
      }
    }
  })
})
