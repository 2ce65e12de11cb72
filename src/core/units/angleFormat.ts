import { NO_VALUE } from './lengthFormat.ts'

export const RAD_PER_DEG = Math.PI / 180

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
