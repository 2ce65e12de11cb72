import { NO_VALUE } from './lengthFormat.ts'
import { proportionRead } from './number.ts'
import { entryRefuse, type EntryRefused } from './problem.ts'
import { quantityParse, type UnitForm, type UnitForms } from './quantity.ts'
import { tokensOf } from './tokens.ts'

const perCent: UnitForm = { size: 0.01, family: 'perCent' }
const perMille: UnitForm = { size: 0.001, family: 'perMille' }
const units: UnitForms = { '%': perCent, percent: perCent, pct: perCent, '‰': perMille }
const expected = '2.5 % or 1:40 (a bare number is per cent)'

/** Steeper than 1:1 is a wall. */
const GRADE_MAX = 1

export type GradeResult = { readonly ok: true; readonly grade: number } | EntryRefused

/**
 * A typed grade as rise over run: 2.5 %, 25 ‰, 1:40, 1 in 40. A bare number is per cent, so 2.5 is 1:40.
 *
 * Domain:     any text; a leading minus descends; |grade| up to 1.
 * Exactness:  exact up to rounding.
 */
export function gradeParse(text: string): GradeResult {
  // Two words become one mark of the same length, so that a problem still points at its place.
  const entry = text.replace(/per\s+cent/i, (words) => '%'.padEnd(words.length))
  const tokens = tokensOf(entry)
  const first = tokens[0]
  const isSigned = first?.kind === 'mark' && (first.mark === '-' || first.mark === '+')
  const proportion = proportionRead(tokens, isSigned ? 1 : 0, entry, expected)
  if (proportion === null) {
    const read = quantityParse(entry, { units, bare: perCent, max: GRADE_MAX, expected })
    return read.ok ? { ok: true, grade: read.value } : read
  }
  if (!proportion.ok) return proportion
  if (proportion.value < 1 / GRADE_MAX) return entryRefuse('outOfRange', text.trim(), first?.at ?? 0, expected)
  return { ok: true, grade: (isSigned && first.mark === '-' ? -1 : 1) / proportion.value }
}

/** A grade as a person reads it: 2.5 %, or 1:40 (level: 0.0 %). NO_VALUE for a number that is not finite. */
export function gradeFormat(grade: number, style: 'perCent' | 'proportion' = 'perCent'): string {
  if (!Number.isFinite(grade)) return NO_VALUE
  const tenths = Math.round(Math.abs(grade) * 1000)
  const sign = grade < 0 && tenths > 0 ? '−' : ''
  if (style === 'perCent' || tenths === 0) return `${sign}${(tenths / 10).toFixed(1)} %`
  return `${sign}1:${Number((1 / Math.abs(grade)).toFixed(1))}`
}
