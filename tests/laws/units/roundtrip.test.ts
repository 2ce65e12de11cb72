import * as fc from 'fast-check'
import { Fraction } from 'fraction.js'
import { describe, expect, it } from 'vitest'
import {
  angleFormat,
  angleParse,
  frogNumberParse,
  gradeParse,
  lengthFormat,
  lengthFormatWithError,
  lengthParse,
  numberParse,
  type LengthStyle,
} from '../../../src/core/units/index.ts'
import { entryProblemText } from '../../../src/words/entryText.ts'

const run = { seed: 20261125, numRuns: 500 } as const

const styles: fc.Arbitrary<LengthStyle> = fc.record({
  units: fc.constantFrom('imperial', 'metric'),
  fraction: fc.constantFrom(16, 32, 64),
  style: fc.constantFrom('feet', 'inches'),
  fractions: fc.constantFrom('plain', 'typeset'),
})
// Ordinary lengths, and ones within a hair of a tick, where rounding and carries go wrong.
const lengths = fc.oneof(
  fc.double({ min: -20000, max: 20000, noNaN: true }),
  fc
    .tuple(fc.integer({ min: -100000, max: 100000 }), fc.constantFrom(16, 32, 64), fc.double({ min: -1e-9, max: 1e-9, noNaN: true }))
    .map(([ticks, fraction, off]) => ((ticks + 0.5) / fraction) * 25.4 + off),
)

describe('what is written can be read', () => {
  it('a formatted length reads back to the value shown: true length plus the stated error', () => {
    fc.assert(
      fc.property(lengths, styles, (mm, style) => {
        const { text, errorMm } = lengthFormatWithError(mm, style)
        const read = lengthParse(text, { bare: 'refuse' })
        if (!read.ok) throw new Error(`${text}: ${entryProblemText(read.problem)}`)
        // 1e-9 mm: decimal and binary fractions of lengths up to 20 m.
        expect(Math.abs(read.mm - (mm + errorMm))).toBeLessThan(1e-9)
        const half = (style.units === 'metric' ? 0.1 : 25.4 / style.fraction) / 2
        expect(Math.abs(errorMm)).toBeLessThanOrEqual(half + 1e-9)
      }),
      run,
    )
  })

  it('feet and inches read back without their marks, where bare numbers are inches', () => {
    const fraction = fc.constantFrom(16 as const, 32 as const, 64 as const)
    fc.assert(
      fc.property(fc.double({ min: 305, max: 30000, noNaN: true }), fraction, fc.boolean(), (mm, fraction, isTypeset) => {
        const { text, errorMm } = lengthFormatWithError(mm, {
          units: 'imperial',
          fraction,
          style: 'feet',
          fractions: isTypeset ? 'typeset' : 'plain',
        })
        const read = lengthParse(text.replaceAll(/[′″]/g, ''), { bare: 'in' })
        if (!read.ok) throw new Error(`${text}: ${entryProblemText(read.problem)}`)
        expect(Math.abs(read.mm - (mm + errorMm))).toBeLessThan(1e-9)
      }),
      run,
    )
  })

  it('two whole numbers with a space are feet and inches below a foot, and refused with both said from there on', () => {
    fc.assert(
      fc.property(fc.nat(200), fc.nat(400), fc.constantFrom(' ', '\u00a0', '  '), (feet, inches, space) => {
        const read = lengthParse(`${feet}${space}${inches}`, { bare: 'in' })
        if (inches < 12) expect(read).toEqual({ ok: true, mm: (feet * 3048 + inches * 254) / 10 })
        else expect(read.ok ? '' : entryProblemText(read.problem)).toMatch(/feet and inches.*less than 12/)
      }),
      run,
    )
  })

  it('formatting what was read changes nothing more', () => {
    fc.assert(
      fc.property(lengths, styles, (mm, style) => {
        const text = lengthFormat(mm, style)
        const read = lengthParse(text, { bare: 'refuse' })
        expect(read.ok && lengthFormat(read.mm, style)).toBe(text)
      }),
      run,
    )
  })

  it('angles in minutes and seconds read back to half a second', () => {
    fc.assert(
      fc.property(fc.double({ min: -6, max: 6, noNaN: true }), (rad) => {
        const read = angleParse(angleFormat(rad, { style: 'seconds' }))
        expect(read.ok && Math.abs(read.rad - rad)).toBeLessThanOrEqual(((0.5 / 3600) * Math.PI) / 180 + 1e-12)
      }),
      run,
    )
  })
})

describe('fractions against exact arithmetic', () => {
  it('the shown fraction is the nearest, in lowest terms, with a power of two below', () => {
    fc.assert(
      // Whole hundredths of a millimetre are exact rationals: n/100 mm = n/2540 in.
      fc.property(fc.integer({ min: 0, max: 2_000_000 }), fc.constantFrom<16 | 32 | 64>(16, 32, 64), (hundredths, fraction) => {
        const text = lengthFormat(hundredths / 100, { units: 'imperial', fraction, style: 'inches' }).replace(' in', '')
        const shown = new Fraction(text)
        const exact = new Fraction(hundredths, 2540)
        const ticks = exact.mul(fraction).round()
        const wanted = ticks.div(fraction)
        // A half tick exactly may fall either way in binary; then both are nearest.
        const isNearest =
          shown.equals(wanted) ||
          shown
            .sub(exact)
            .abs()
            .equals(new Fraction(1, fraction * 2))
        expect(isNearest, `${hundredths / 100} mm as ${text}`).toBe(true)
        const [, over = '0', under = '1'] = /(\d+)\/(\d+)$/.exec(text) ?? []
        expect(Number(under) & (Number(under) - 1)).toBe(0)
        if (text.includes('/')) expect(Number(over) % 2).toBe(1)
      }),
      run,
    )
  })

  it('reads any mixed number exactly as the library does', () => {
    fc.assert(
      fc.property(fc.nat(500), fc.nat(63), fc.integer({ min: 1, max: 64 }), (whole, over, under) => {
        const read = lengthParse(`${whole} ${over}/${under}`, { bare: 'in' })
        const exact = new Fraction(`${whole} ${over}/${under}`).mul(254, 10).valueOf()
        expect(read.ok && Math.abs(read.mm - exact)).toBeLessThan(1e-10)
      }),
      run,
    )
  })
})

describe('nothing typed can throw', () => {
  const scraps = fc.array(
    fc.constantFrom(
      '3',
      '1/2',
      "'",
      '"',
      'mm',
      'in',
      'ft',
      ' ',
      '-',
      '−',
      '.',
      ',',
      '/',
      '0',
      '½',
      '¹¹⁄₆₄',
      '⁄',
      ':',
      '%',
      '°',
      '#',
      'rad',
      '1e9',
      '🚂',
      '\u0000',
      '٣',
    ),
    { maxLength: 12 },
  )
  const texts = fc.oneof(
    fc.string({ unit: 'binary', maxLength: 40 }),
    scraps.map((parts) => parts.join('')),
  )

  it('every parser answers with a finite number or a problem that points into the text', () => {
    const parsers = [
      (text: string) => lengthParse(text, { bare: 'in' }),
      (text: string) => lengthParse(text, { bare: 'refuse' }),
      angleParse,
      gradeParse,
      frogNumberParse,
      numberParse,
    ]
    fc.assert(
      fc.property(texts, (text) => {
        for (const parse of parsers) {
          const read = parse(text)
          if (read.ok) for (const value of Object.values(read)) expect(typeof value !== 'number' || Number.isFinite(value)).toBe(true)
          else {
            expect(read.problem.at).toBeGreaterThanOrEqual(0)
            expect(read.problem.at).toBeLessThanOrEqual(text.length)
            expect(entryProblemText(read.problem).length).toBeGreaterThan(10)
          }
        }
      }),
      { ...run, numRuns: 2000 },
    )
  })
})
