import { mixedRead, quantityParse, type UnitForm, type UnitForms } from './quantity.ts'
import { entryRefuse, type EntryRefused } from './problem.ts'
import { tokensOf } from './tokens.ts'

const inch: UnitForm = { size: 254, per: 10, family: 'imperial' }
const foot: UnitForm = { size: 3048, per: 10, family: 'imperial', next: inch }
const millimetre: UnitForm = { size: 1, family: 'metric' }
const centimetre: UnitForm = { size: 10, family: 'metric' }
const metre: UnitForm = { size: 1000, family: 'metric' }

const units: UnitForms = {
  "'": foot,
  ft: foot,
  foot,
  feet: foot,
  '"': inch,
  in: inch,
  ins: inch,
  inch,
  inches: inch,
  mm: millimetre,
  millimetre,
  millimetres: millimetre,
  millimeter: millimetre,
  millimeters: millimetre,
  cm: centimetre,
  centimetre,
  centimetres: centimetre,
  centimeter: centimetre,
  centimeters: centimetre,
  m: metre,
  metre,
  metres: metre,
  meter: metre,
  meters: metre,
}

/** Longest length that is believed: 10 km. A home railway is shorter; a slip of the keyboard is not. */
export const LENGTH_MAX_MM = 1e7

export type LengthResult = { readonly ok: true; readonly mm: number } | EntryRefused

/** What a number without a unit means; 'refuse': a unit must be written. */
export type BareLength = 'in' | 'mm' | 'refuse'

/**
 * A typed length in millimetres: 3' 4-1/2", 40 1/2, 2 ft 3 in, 1028.7 mm, 102,87 cm, 1.0287 m.
 *
 * Units:      result in mm; bare numbers as `bare` says. Where that is inches, two numbers with a space between are feet and
 *             inches: 3 6 is 3 ft 6 in, 3 4 1/2 is 3 ft 4 1/2 in; a fraction belongs to the number before it: 5 1/2 is inches.
 * Domain:     any text. A leading minus takes the whole length; |length| up to LENGTH_MAX_MM.
 * Exactness:  exact up to rounding (1 in = 25.4 mm).
 * Outcome:    a problem with its place for a wrong entry; `example` is what would be right there, where one nearer to the thing is known.
 */
export function lengthParse(text: string, { bare, example }: { readonly bare: BareLength; readonly example?: string }): LengthResult {
  const spaced = bare === 'in' ? feetAndInches(text) : null
  if (spaced !== null) return spaced
  const read = quantityParse(text, {
    units,
    bare: bare === 'in' ? inch : bare === 'mm' ? millimetre : null,
    max: LENGTH_MAX_MM,
    expected: example ?? (bare === 'mm' ? '1200 mm, 1.2 m or 3′ 6″' : bare === 'in' ? typedInInches : '3′ 4 1/2″, 40 1/2 in or 1028.7 mm'),
  })
  return read.ok ? { ok: true, mm: read.value } : read
}

const typedInInches = '3′ 4 1/2″, 3 4 1/2 (feet and inches), 40 1/2 (inches) or 1028.7 mm'

/**
 * Feet and inches by the space between them; null: the entry is not written so. Inches are less than twelve and of two figures at
 * most before their point or fraction, since 1 200 and 1 000 may as well be thousands.
 */
function feetAndInches(text: string): LengthResult | null {
  const [sign, ...rest] = tokensOf(text)
  const isSigned = sign?.kind === 'mark' && (sign.mark === '-' || sign.mark === '+')
  const tokens = isSigned || sign === undefined ? rest : [sign, ...rest]
  const [feet, second, slash] = tokens
  if (feet?.kind !== 'number' || !feet.isWhole || second?.kind !== 'number') return null
  // Without a space it is one number of too many points; a fraction behind the first number is a part of that.
  if (second.at === feet.at + feet.text.length || (slash?.kind === 'mark' && slash.mark === '/')) return null
  const inches = mixedRead(tokens, 1, text, typedInInches)
  if (!inches.ok) return null
  const [unit, more] = tokens.slice(inches.next)
  const isInches = unit === undefined || (unit.kind === 'mark' ? unit.mark === '"' : unit.kind === 'word' && isInchWord(unit.text))
  if (!isInches || more !== undefined) return null
  if (inches.value >= 12 || !/^\d{1,2}(?:[.,]\d+)?$/.test(second.text))
    return entryRefuse('inchesBeyond', text.slice(second.at).trim(), second.at, typedInInches)
  const mm = (feet.value * foot.size + inches.value * inch.size) / 10
  if (!(mm <= LENGTH_MAX_MM)) return entryRefuse('tooLarge', text.trim(), feet.at, typedInInches)
  return { ok: true, mm: mm === 0 ? 0 : isSigned && sign.mark === '-' ? -mm : mm }
}

function isInchWord(word: string): boolean {
  return units[word.toLowerCase().replace(/\.$/, '')] === inch
}
