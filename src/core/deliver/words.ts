import { lengthFormat, lengthFormatWithError, MM_PER_INCH } from '../units/index.ts'
import type { SheetOptions } from './types.ts'

type Units = SheetOptions['units']

/** Two thousandths of an inch: a fraction so near is as good as exact at the bench. Common practice, no source. */
const FRACTION_GOOD_MM = 0.05

/** 50 m on the model: off a straight line by 0.1 mm over the closure of an O scale No. 8. */
const STRAIGHT_FROM_MM = 50_000

/** A length as the sheets print it: feet, inches and real fractions to 1/32, or millimetres to 0.1, whole ones without decimals. */
export function lengthWords(mm: number, units: Units): string {
  return lengthFormat(mm, { units, fraction: 32, fractions: 'typeset' }).replace('.0 mm', ' mm')
}

/** An offset: the nearest 64th of an inch, with the thousandths in brackets where that is off by more than a file takes; or hundredths of a millimetre. */
export function offsetWords(mm: number, units: Units): string {
  if (units === 'metric') return mm.toFixed(2)
  const { text, errorMm } = lengthFormatWithError(mm, { units, fraction: 64, fractions: 'typeset' })
  return Math.abs(errorMm) <= FRACTION_GOOD_MM ? text : `${text} (${(mm / MM_PER_INCH).toFixed(3)})`
}

/** Like lengthWords, without the unit where it is plain: small print beside what it belongs to. */
export function pieceWords(mm: number, units: Units): string {
  const words = lengthWords(mm, units)
  return units === 'metric' ? words.replace(' mm', '') : words
}

/**
 * A small fixed size (gauge, flangeway, throw), of which a 32nd is a good part: thousandths of an inch with hundredths of a millimetre
 * beside them, for drills and feelers are marked in both; or the latter alone.
 */
export function fineWords(mm: number, units: Units): string {
  const metric = `${mm.toFixed(2)} mm`
  return units === 'metric' ? metric : `${(mm / MM_PER_INCH).toFixed(3)} in (${metric})`
}

/** A radius; one that no trammel reaches is as good as straight. */
export function radiusWords(mm: number, units: Units): string {
  return Math.abs(mm) > STRAIGHT_FROM_MM ? 'straight' : lengthWords(mm, units)
}

/** The drill for a hole of a width: the next that is no smaller, by 64ths of an inch or tenths of a millimetre. */
export function drillWords(widthMm: number, units: Units): string {
  const step = units === 'metric' ? 0.1 : MM_PER_INCH / 64
  return lengthFormat(Math.ceil(widthMm / step - 1e-6) * step, { units, fraction: 64, fractions: 'typeset' }).replace('.0 mm', ' mm')
}

/** A station: whole inches as feet and inches, whole millimetres without a unit. */
export function stationWords(mm: number, units: Units): string {
  return units === 'metric' ? String(Math.round(mm)) : lengthFormat(mm, { units, fraction: 16, fractions: 'typeset' })
}

/** 1 curve, 2 curves. */
export function counted(count: number, what: string): string {
  return `${count} ${what}${count === 1 ? '' : 's'}`
}

/** An angle in degrees to 0.01. */
export function angleWords(rad: number): string {
  return `${((rad * 180) / Math.PI).toFixed(2)}°`
}
