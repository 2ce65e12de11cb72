import { quantityParse, type UnitForm, type UnitForms } from './quantity.ts'
import type { EntryRefused } from './problem.ts'

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
 * Units:      result in mm; bare numbers as `bare` says.
 * Domain:     any text. A leading minus takes the whole length; |length| up to LENGTH_MAX_MM.
 * Exactness:  exact up to rounding (1 in = 25.4 mm).
 * Outcome:    a problem with its place for a wrong entry.
 */
export function lengthParse(text: string, { bare }: { readonly bare: BareLength }): LengthResult {
  const read = quantityParse(text, {
    units,
    bare: bare === 'in' ? inch : bare === 'mm' ? millimetre : null,
    max: LENGTH_MAX_MM,
    expected: bare === 'mm' ? '1028.7 mm, 1.0287 m or 3′ 4 1/2″' : '3′ 4 1/2″, 40 1/2 in or 1028.7 mm',
  })
  return read.ok ? { ok: true, mm: read.value } : read
}
