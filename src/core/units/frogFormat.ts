import { mixedText, NO_VALUE } from './lengthFormat.ts'
import type { LengthStyle } from './lengthFormat.ts'

/** A frog number as the trade writes it: 6, 5 1/2 (5½ where typeset), 6.35. Eighths as fractions, others to two decimals. */
export function frogNumberFormat(frog: number, fractions: LengthStyle['fractions'] = 'plain'): string {
  if (!Number.isFinite(frog)) return NO_VALUE
  const eighths = frog * 8
  if (!Number.isInteger(eighths)) return String(Number(frog.toFixed(2)))
  const whole = Math.floor(frog)
  return mixedText(whole, eighths - whole * 8, 8, fractions)
}
