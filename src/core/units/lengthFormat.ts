import { MM_PER_INCH } from './millimetres.ts'

export type FractionOfInch = 16 | 32 | 64

export interface LengthStyle {
  readonly units: 'imperial' | 'metric'
  /** Imperial lengths are rounded to 1/fraction in. */
  readonly fraction: FractionOfInch
  /** 3′ 4 1/2″ or 40 1/2 in; feet when left out. */
  readonly style?: 'feet' | 'inches'
  /** 'typeset': ½ and ¹¹⁄₆₄ for a screen; 'plain' (when left out): 1/2 and 11/64. */
  readonly fractions?: 'plain' | 'typeset'
}

/** What stands where there is no number to show. */
export const NO_VALUE = '—'

/** A length as a person reads it, with how far the shown value is from the true one (shown - true, mm). */
export interface FormattedLength {
  readonly text: string
  readonly errorMm: number
}

/**
 * A length in words of the bench: 3′ 4 1/2″, 40 1/2 in, 1028.7 mm.
 *
 * Units:      mm in; imperial to the nearest 1/16, 1/32 or 1/64 in, metric to 0.1 mm, halves away from zero.
 * Exactness:  rounding error at most half a step; lengthFormatWithError states it.
 * Outcome:    NO_VALUE for a number that is not finite.
 */
export function lengthFormat(mm: number, style: LengthStyle): string {
  return lengthFormatWithError(mm, style).text
}

/** lengthFormat with the rounding error. */
export function lengthFormatWithError(mm: number, style: LengthStyle): FormattedLength {
  if (!Number.isFinite(mm)) return { text: NO_VALUE, errorMm: 0 }
  const step = style.units === 'metric' ? 0.1 : MM_PER_INCH / style.fraction
  const ticks = style.units === 'metric' ? Math.round(Math.abs(mm) * 10) : Math.round((Math.abs(mm) * style.fraction) / MM_PER_INCH)
  const sign = mm < 0 && ticks > 0 ? '−' : ''
  const size = style.units === 'metric' ? `${(ticks / 10).toFixed(1)} mm` : imperialText(ticks, style)
  return { text: sign + size, errorMm: Math.sign(mm) * ticks * step - mm }
}

/** `ticks` counts 1/fraction in; whole numbers only from here on, so carries are exact. */
function imperialText(ticks: number, style: LengthStyle): string {
  const perInch = style.fraction
  const over = ticks % perInch
  const inches = (ticks - over) / perInch
  if (style.style === 'inches') return `${mixedText(inches, over, perInch, style.fractions)} in`
  const feet = Math.floor(inches / 12)
  const rest = `${mixedText(inches % 12, over, perInch, style.fractions, feet > 0)}″`
  return feet > 0 ? `${feet}′ ${rest}` : rest
}

/** 4 1/2, or 1/2 when there are no whole inches (0 1/2 after feet). */
export function mixedText(whole: number, over: number, under: number, fractions: LengthStyle['fractions'], keepZero = false): string {
  if (over === 0) return String(whole)
  const [a, b] = reduced(over, under)
  if (fractions !== 'typeset') return whole > 0 || keepZero ? `${whole} ${a}/${b}` : `${a}/${b}`
  return whole > 0 || keepZero ? `${whole}${fractionTypeset(a, b)}` : fractionTypeset(a, b)
}

/** Halves as long as both are even: the denominator is a power of two. */
function reduced(over: number, under: number): readonly [number, number] {
  let [a, b] = [over, under]
  while (a % 2 === 0 && b % 2 === 0) {
    a /= 2
    b /= 2
  }
  return [a, b]
}

const glyphs: Readonly<Record<string, string>> = {
  '1/2': '½',
  '1/4': '¼',
  '3/4': '¾',
  '1/8': '⅛',
  '3/8': '⅜',
  '5/8': '⅝',
  '7/8': '⅞',
}

/** A fraction as one glyph where the fonts have one, else raised and lowered figures about a fraction slash (U+2044). */
export function fractionTypeset(over: number, under: number): string {
  const raise = (n: number, figures: string): string => [...String(n)].map((digit) => figures.charAt(Number(digit))).join('')
  return glyphs[`${over}/${under}`] ?? `${raise(over, '⁰¹²³⁴⁵⁶⁷⁸⁹')}⁄${raise(under, '₀₁₂₃₄₅₆₇₈₉')}`
}
