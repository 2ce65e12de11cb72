import { RAD_PER_DEG } from './angleFormat.ts'
import type { EntryRefused } from './problem.ts'
import { quantityParse, type UnitForm, type UnitForms } from './quantity.ts'

const second: UnitForm = { size: RAD_PER_DEG / 3600, family: 'degrees', below: 60 }
const minute: UnitForm = { size: RAD_PER_DEG / 60, family: 'degrees', next: second, below: 60 }
const degree: UnitForm = { size: RAD_PER_DEG, family: 'degrees', next: minute }
const radian: UnitForm = { size: 1, family: 'radians' }

const units: UnitForms = {
  '°': degree,
  deg: degree,
  degs: degree,
  degree,
  degrees: degree,
  "'": minute,
  min: minute,
  minutes: minute,
  '"': second,
  sec: second,
  seconds: second,
  rad: radian,
  radian,
  radians: radian,
}

/** A hundred turns: more is a slip of the keyboard. */
const ANGLE_MAX_RAD = 200 * Math.PI

export type AngleResult = { readonly ok: true; readonly rad: number } | EntryRefused

/**
 * A typed angle in radians: 9.5°, 9°32', 9 deg 31' 38", 0.1663 rad. A bare number is degrees.
 *
 * Domain:     any text; a leading minus takes the whole angle; |angle| up to a hundred turns.
 * Exactness:  exact up to rounding.
 * Outcome:    a problem with its place for a wrong entry.
 */
export function angleParse(text: string): AngleResult {
  const read = quantityParse(text, { units, bare: degree, max: ANGLE_MAX_RAD, expected: '9.5°, 9° 32′ or 0.1663 rad' })
  return read.ok ? { ok: true, rad: read.value } : read
}
