import { NO_VALUE } from './lengthFormat.ts'
import type { EntryRefused } from './problem.ts'
import { quantityParse, type UnitForm, type UnitForms } from './quantity.ts'

export const RAD_PER_DEG = Math.PI / 180

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

export interface AngleStyle {
  /** 'decimal': 9.527°; 'seconds': 9° 31′ 38″. Decimal when left out. */
  readonly style?: 'decimal' | 'seconds'
  /** Decimals of a degree (decimal) or of a second; 2 and 0 when left out. */
  readonly decimals?: number
}

/** An angle as a person reads it, in degrees. Halves away from zero; NO_VALUE for a number that is not finite. */
export function angleFormat(rad: number, { style = 'decimal', decimals = style === 'decimal' ? 2 : 0 }: AngleStyle = {}): string {
  if (!Number.isFinite(rad)) return NO_VALUE
  const steps = 10 ** decimals
  const perDegree = style === 'decimal' ? steps : 3600 * steps
  const ticks = Math.round((Math.abs(rad) / RAD_PER_DEG) * perDegree)
  const sign = rad < 0 && ticks > 0 ? '−' : ''
  if (style === 'decimal') return `${sign}${(ticks / steps).toFixed(decimals)}°`
  const seconds = (ticks % (60 * steps)) / steps
  const minutes = Math.floor(ticks / (60 * steps))
  return `${sign}${Math.floor(minutes / 60)}° ${minutes % 60}′ ${seconds.toFixed(decimals)}″`
}
