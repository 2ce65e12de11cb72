import { NO_VALUE } from './lengthFormat.ts'

/** A frog number as the trade writes it: 6, 5 1/2, 6.35. Eighths as fractions, others to two decimals. */
export function frogNumberFormat(frog: number): string {
  if (!Number.isFinite(frog)) return NO_VALUE
  const eighths = frog * 8
  if (!Number.isInteger(eighths)) return String(Number(frog.toFixed(2)))
  const whole = Math.floor(frog)
  const rest = eighths - whole * 8
  if (rest === 0) return String(whole)
  const under = rest % 4 === 0 ? 2 : rest % 2 === 0 ? 4 : 8
  const fraction = `${(rest * under) / 8}/${under}`
  return whole === 0 ? fraction : `${whole} ${fraction}`
}
