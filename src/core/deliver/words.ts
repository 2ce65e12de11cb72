import { lengthFormat, MM_PER_INCH } from '../units/index.ts'
import type { SheetOptions } from './types.ts'

type Units = SheetOptions['units']

/** A length as the sheets print it: feet, inches and real fractions to 1/32, or millimetres to 0.1. */
export function lengthWords(mm: number, units: Units): string {
  return lengthFormat(mm, { units, fraction: 32, fractions: 'typeset' })
}

/** Like lengthWords, without the unit where it is plain: small print beside what it belongs to. */
export function pieceWords(mm: number, units: Units): string {
  const words = lengthWords(mm, units)
  return units === 'metric' ? words.replace(' mm', '') : words
}

/** The drill for a hole of a width: the next that is no smaller, by 64ths of an inch or tenths of a millimetre. */
export function drillWords(widthMm: number, units: Units): string {
  const step = units === 'metric' ? 0.1 : MM_PER_INCH / 64
  return lengthFormat(Math.ceil(widthMm / step - 1e-6) * step, { units, fraction: 64, fractions: 'typeset' })
}

/** A station: whole inches as feet and inches, whole millimetres without a unit. */
export function stationWords(mm: number, units: Units): string {
  return units === 'metric' ? String(Math.round(mm)) : lengthFormat(mm, { units, fraction: 16, fractions: 'typeset' })
}

/** An angle in degrees to 0.01. */
export function angleWords(rad: number): string {
  return `${((rad * 180) / Math.PI).toFixed(2)}°`
}
