import { describe, expect, it } from 'vitest'
import { lengthFormat, lengthFormatWithError, lengthParse, type BareLength } from '../../../src/core/units/index.ts'
import { entryProblemText } from '../../../src/words/entryText.ts'

function mmOf(text: string, bare: BareLength = 'in'): number {
  const read = lengthParse(text, { bare })
  if (!read.ok) throw new Error(`${text}: ${entryProblemText(read.problem)}`)
  return read.mm
}

describe('lengths as people type them', () => {
  // 40 1/2 in = 40.5 x 25.4 = 1028.7 mm, written in every way.
  const fortyAndAHalf = [
    `3' 4-1/2"`,
    `3'4 1/2`,
    `3'-4 1/2"`,
    '40 1/2',
    '40-1/2"',
    '40½',
    '40 ½ in',
    '3′ 4½″',
    `3 ft 4 1/2 in`,
    '3 feet 4.5 inches',
    '3 Ft. 4½ In.',
    `3' 4 1/2''`,
    '1028.7 mm',
    '1028,7 mm',
    '1028.7mm',
    '102.87 cm',
    '1.0287 m',
    '1 m 28.7 mm',
    '  40\u00a01/2  ',
    '3 4 1/2',
    '3 4½',
    '3 4-1/2 in',
    `3 4.5"`,
    '+40 1/2',
  ]
  for (const text of fortyAndAHalf) {
    it(`${text.trim()} is 1028.7 mm`, () => {
      // Decimal fractions of cm and m are not exact in binary: a picometre.
      expect(mmOf(text)).toBeCloseTo(1028.7, 9)
    })
  }

  it('reads feet, inches and fractions without a rounding in the last place', () => {
    expect(mmOf(`3' 4"`)).toBe(1016)
    expect(mmOf(`1'6-1/2"`)).toBe(469.9)
    expect(mmOf('5/8')).toBe(15.875)
    expect(mmOf('.5in')).toBe(12.7)
    expect(mmOf('30in')).toBe(762)
    expect(mmOf('2 ft 3 in')).toBe(685.8)
    expect(mmOf('40¹¹⁄₆₄ in')).toBe(1020.365625)
  })

  it('takes two numbers with a space between for feet and inches, where bare numbers are inches', () => {
    expect(mmOf('3 6')).toBe(1066.8)
    expect(mmOf('3 6 1/2')).toBe(1079.5)
    expect(mmOf('3 0 1/2')).toBe(927.1)
    expect(mmOf('-3 6')).toBe(-1066.8)
    // A fraction belongs to the number before it.
    expect(mmOf('5 1/2')).toBe(139.7)
    expect(mmOf('5 ½')).toBe(139.7)
    for (const bare of ['mm', 'refuse'] as const)
      expect(lengthParse('3 6', { bare })).toMatchObject({ ok: false, problem: { kind: 'unexpected', text: '6' } })
  })

  it('lets a minus take the whole length', () => {
    expect(mmOf(`-3' 4"`)).toBe(-1016)
    expect(mmOf('−5 mm')).toBe(-5)
    expect(Object.is(mmOf('-0'), 0)).toBe(true)
  })

  it('gives a bare number the unit asked for, and none where one is required', () => {
    expect(mmOf('30', 'mm')).toBe(30)
    expect(mmOf('30', 'in')).toBe(762)
    expect(lengthParse('30', { bare: 'refuse' })).toMatchObject({ ok: false, problem: { kind: 'unitMissing', text: '30' } })
    expect(mmOf(`3' 4`, 'refuse')).toBe(1016)
  })
})

describe('a wrong length says what is wrong and where', () => {
  const wrong: readonly (readonly [text: string, kind: string, at: number])[] = [
    ['', 'empty', 0],
    ['   ', 'empty', 0],
    ['abc', 'noNumber', 0],
    ['NaN', 'noNumber', 0],
    ['Infinity', 'noNumber', 0],
    ['-', 'unexpected', 0],
    ["'", 'unexpected', 0],
    ['3//4', 'unexpected', 2],
    ['3/', 'unexpected', 1],
    ['1.5/2', 'unexpected', 3],
    ['4--1/2', 'unexpected', 1],
    ['3 4 5', 'unexpected', 2],
    ['3 12', 'inchesBeyond', 2],
    ['3 11 4/4', 'inchesBeyond', 2],
    ['1 000', 'inchesBeyond', 2],
    ['1 200', 'inchesBeyond', 2],
    ['3 4 ft', 'unexpected', 2],
    ['3 4 mm', 'unexpected', 2],
    ['3.5 4', 'unexpected', 4],
    ['3 ft -', 'unexpected', 5],
    ['4 mm in', 'unexpected', 5],
    ['5 €', 'unexpected', 2],
    ['1/0', 'zeroDenominator', 2],
    ['4 1/0', 'zeroDenominator', 4],
    ['1e999', 'powerOfTen', 0],
    ['1e3', 'powerOfTen', 0],
    ['3 ft 1.5E-2 in', 'powerOfTen', 5],
    ['1e3e4 mm', 'powerOfTen', 0],
    ['3 lightyears', 'unknownUnit', 2],
    [`4" 3'`, 'unitOrder', 4],
    [`3' 4 mm`, 'unitOrder', 5],
    ['3 ft 4 ft', 'unitOrder', 7],
    ['2 m 5', 'unitMissing', 4],
    ['1,028 mm', 'ambiguousComma', 0],
    ['99999999999 mm', 'tooLarge', 0],
    ['9'.repeat(400), 'tooLarge', 0],
  ]
  for (const [text, kind, at] of wrong) {
    it(`“${text.slice(0, 20)}”: ${kind} at ${at}`, () => {
      const read = lengthParse(text, { bare: 'in' })
      expect(read).toMatchObject({ ok: false, problem: { kind, at } })
      if (read.ok) return
      expect(entryProblemText(read.problem)).toContain('Right would be')
      expect(text.slice(read.problem.at)).toContain(read.problem.text.trim())
    })
  }

  it('writes a power of ten out where that is shorter than a row of noughts', () => {
    const said = (text: string): string => {
      const read = lengthParse(text, { bare: 'mm' })
      return read.ok ? '' : entryProblemText(read.problem)
    }
    expect(said('1e3')).toBe('“1e3” is a number with a power of ten; write it out. Right would be: 1000.')
    expect(said('2,5E−2 m')).toContain('Right would be: 0.025.')
    expect(said('1e300 mm')).toContain('Right would be: 1200 mm')
    expect(said('3e')).toContain('“e” is not a unit known here')
  })

  it('names both readings of a comma that may be decimal or thousands', () => {
    const read = lengthParse('1,028 mm', { bare: 'mm' })
    expect(read.ok ? '' : entryProblemText(read.problem)).toBe('“1,028” can be read in two ways. Right would be: 1028 or 1.028.')
    expect(mmOf('0,375 in')).toBe(9.525)
  })
})

describe('lengths as people read them', () => {
  const imperial = { units: 'imperial', fraction: 64 } as const
  const metric = { units: 'metric', fraction: 64 } as const

  it('writes feet, inches and reduced fractions with true primes', () => {
    expect(lengthFormat(1028.7, imperial)).toBe('3′ 4 1/2″')
    expect(lengthFormat(1028.7, { ...imperial, style: 'inches' })).toBe('40 1/2 in')
    expect(lengthFormat(12.7, imperial)).toBe('1/2″')
    expect(lengthFormat(304.8, imperial)).toBe('1′ 0″')
    expect(lengthFormat(304.8 + 12.7, imperial)).toBe('1′ 0 1/2″')
    expect(lengthFormat(0, imperial)).toBe('0″')
    expect(lengthFormat(-1016, imperial)).toBe('−3′ 4″')
    expect(lengthFormat(1028.7, metric)).toBe('1028.7 mm')
    expect(lengthFormat(762, metric)).toBe('762.0 mm')
    expect(lengthFormat(-0.04, metric)).toBe('0.0 mm')
  })

  it('carries: 11 63/64 in and a little more is a foot', () => {
    const almost = (11 + 63 / 64) * 25.4
    expect(lengthFormat(almost, imperial)).toBe('11 63/64″')
    expect(lengthFormat(almost, { ...imperial, fraction: 32 })).toBe('1′ 0″')
    expect(lengthFormat(almost + 0.25, imperial)).toBe('1′ 0″')
    expect(lengthFormat(9.96, metric)).toBe('10.0 mm')
  })

  it('states the rounding error', () => {
    // 23 mm = 57.953/64 in; shown 29/32 in = 23.01875 mm.
    const { text, errorMm } = lengthFormatWithError(23, imperial)
    expect(text).toBe('29/32″')
    expect(errorMm).toBeCloseTo(0.01875, 12)
    expect(lengthFormatWithError(-23, imperial).errorMm).toBeCloseTo(-0.01875, 12)
  })

  it('typesets fractions for the screen', () => {
    const screen = { ...imperial, fractions: 'typeset' } as const
    expect(lengthFormat(1028.7, screen)).toBe('3′ 4½″')
    expect(lengthFormat(40.375 * 25.4, { ...screen, style: 'inches' })).toBe('40⅜ in')
    expect(lengthFormat((40 + 11 / 64) * 25.4, { ...screen, style: 'inches' })).toBe('40¹¹⁄₆₄ in')
    expect(lengthFormat(25.4 / 16, screen)).toBe('¹⁄₁₆″')
  })

  it('shows a dash for a number that is none', () => {
    for (const mm of [NaN, Infinity, -Infinity]) expect(lengthFormat(mm, imperial)).toBe('—')
  })
})
