import { describe, expect, it } from 'vitest'
import {
  angleFormat,
  angleParse,
  frogNumberFormat,
  frogNumberParse,
  gradeFormat,
  gradeParse,
  numberParse,
  scaleToModel,
  scaleToPrototype,
} from '../../../src/core/units/index.ts'

const degrees = (text: string): number => {
  const read = angleParse(text)
  return read.ok ? (read.rad * 180) / Math.PI : NaN
}
const grade = (text: string): number => {
  const read = gradeParse(text)
  return read.ok ? read.grade : NaN
}

describe('angles', () => {
  it('reads degrees, minutes and seconds, and radians', () => {
    expect(degrees('9.5°')).toBeCloseTo(9.5, 12)
    expect(degrees('9.5deg')).toBeCloseTo(9.5, 12)
    expect(degrees('9.5')).toBeCloseTo(9.5, 12)
    // 9 deg 32' = 9 + 32/60
    expect(degrees(`9°32'`)).toBeCloseTo(9 + 32 / 60, 12)
    // 9 deg 31' 38" = 9 + 31/60 + 38/3600
    expect(degrees(`9 deg 31' 38"`)).toBeCloseTo(9 + 31 / 60 + 38 / 3600, 12)
    expect(degrees('-9° 30′')).toBeCloseTo(-9.5, 12)
    expect(degrees('90º')).toBe(90)
    expect(angleParse('0.1663 rad')).toEqual({ ok: true, rad: 0.1663 })
  })

  it('refuses what no angle is', () => {
    expect(angleParse(`9°75'`)).toMatchObject({ ok: false, problem: { kind: 'outOfRange', at: 2 } })
    expect(angleParse('9 in')).toMatchObject({ ok: false, problem: { kind: 'unknownUnit' } })
    expect(angleParse('1000000')).toMatchObject({ ok: false, problem: { kind: 'tooLarge' } })
    expect(angleParse('')).toMatchObject({ ok: false, problem: { kind: 'empty' } })
  })

  it('writes decimals or minutes and seconds, with carries', () => {
    const rad = (deg: number): number => (deg * Math.PI) / 180
    expect(angleFormat(rad(9.527283))).toBe('9.53°')
    // .527283 x 60 = 31.637 min; .637 x 60 = 38.2 s
    expect(angleFormat(rad(9.527283), { style: 'seconds' })).toBe('9° 31′ 38″')
    expect(angleFormat(rad(9.99999999), { style: 'seconds' })).toBe('10° 0′ 0″')
    expect(angleFormat(rad(-0.001))).toBe('0.00°')
    expect(angleFormat(rad(-4.5), { decimals: 1 })).toBe('−4.5°')
    expect(angleFormat(NaN)).toBe('—')
  })
})

describe('grades', () => {
  it('reads per cent, per mille and proportions; a bare number is per cent', () => {
    for (const text of ['2.5%', '2.5 %', '2.5', '2.5 per cent', '25‰', '1:40', '1 in 40', '2 1/2 %'])
      expect(grade(text)).toBeCloseTo(0.025, 15)
    expect(grade('-1:40')).toBeCloseTo(-0.025, 15)
    expect(grade('-2.5%')).toBeCloseTo(-0.025, 15)
    expect(grade('0.025')).toBeCloseTo(0.00025, 15)
    expect(grade('0')).toBe(0)
  })

  it('refuses walls and nonsense', () => {
    expect(gradeParse('1:0')).toMatchObject({ ok: false, problem: { kind: 'zeroDenominator', at: 2 } })
    expect(gradeParse('0:1')).toMatchObject({ ok: false, problem: { kind: 'outOfRange' } })
    expect(gradeParse('2:1')).toMatchObject({ ok: false, problem: { kind: 'outOfRange' } })
    expect(gradeParse('200%')).toMatchObject({ ok: false, problem: { kind: 'tooLarge' } })
    expect(gradeParse('1:x')).toMatchObject({ ok: false, problem: { kind: 'noNumber', at: 2 } })
    expect(gradeParse('steep')).toMatchObject({ ok: false, problem: { kind: 'noNumber' } })
  })

  it('writes per cent or a proportion', () => {
    expect(gradeFormat(0.025)).toBe('2.5 %')
    expect(gradeFormat(-0.025, 'proportion')).toBe('−1:40')
    expect(gradeFormat(0, 'proportion')).toBe('0.0 %')
    expect(gradeFormat(NaN)).toBe('—')
  })
})

describe('frog numbers', () => {
  it('reads a number however it is named, and keeps whether it was a slope', () => {
    for (const text of ['6', '#6', 'No. 6', 'no 6', 'Nr. 6'])
      expect(frogNumberParse(text)).toEqual({ ok: true, frog: 6, writtenAs: 'number' })
    expect(frogNumberParse('5 1/2')).toEqual({ ok: true, frog: 5.5, writtenAs: 'number' })
    expect(frogNumberParse('5,5')).toEqual({ ok: true, frog: 5.5, writtenAs: 'number' })
    expect(frogNumberParse('1:9')).toEqual({ ok: true, frog: 9, writtenAs: 'slope' })
    expect(frogNumberParse('1 in 7.5')).toEqual({ ok: true, frog: 7.5, writtenAs: 'slope' })
  })

  it('refuses zero, negatives and words', () => {
    for (const text of ['0', '-6', '6x', '', 'six', '1:0', '6 6', 'Infinity', '#']) expect(frogNumberParse(text).ok, text).toBe(false)
  })

  it('writes eighths as fractions', () => {
    expect([6, 5.5, 6.375, 0.25, 6.35].map((frog) => frogNumberFormat(frog))).toEqual(['6', '5 1/2', '6 3/8', '1/4', '6.35'])
    expect([6, 5.5, 6.375, 6.35].map((frog) => frogNumberFormat(frog, 'typeset'))).toEqual(['6', '5½', '6⅜', '6.35'])
    expect(frogNumberFormat(NaN)).toBe('—')
  })
})

describe('plain numbers and scale', () => {
  it('reads a number without a unit and refuses one', () => {
    expect(numberParse('87.1')).toEqual({ ok: true, value: 87.1 })
    expect(numberParse('-3')).toEqual({ ok: true, value: -3 })
    expect(numberParse('6 in')).toMatchObject({ ok: false, problem: { kind: 'unknownUnit' } })
  })

  it('brings 8 ft 6 in down to HO and back', () => {
    // 102 in x 25.4 / 87.1 = 29.745 mm
    expect(scaleToModel(102 * 25.4, 87.1)).toBeCloseTo(29.7451, 4)
    expect(scaleToPrototype(scaleToModel(102, 87.1), 87.1)).toBeCloseTo(102, 12)
  })
})
