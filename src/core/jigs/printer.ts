import { outside } from './limits.ts'
import type { JigProblem, Printer } from './types.ts'

/** The usual desktop printer, and a fit that goes together by hand. Common practice, no source. */
export const printerUsual: Printer = { bedXMm: 220, bedYMm: 220, bedZMm: 220, slotAllowanceMm: 0.2, jointAllowanceMm: 0.15 }

/** Beds of desktop printers, with room to spare on both sides. */
export const leastBedMm = 40
export const mostBedMm = 2000
/** Nothing prints as wide of the mark as this. */
export const mostAllowanceMm = 2

/** Values that no printer has. */
export function printerProblems({ bedXMm, bedYMm, bedZMm, slotAllowanceMm, jointAllowanceMm }: Printer): readonly JigProblem[] {
  return [
    ...outside('bedXMm', bedXMm, leastBedMm, mostBedMm, 'size'),
    ...outside('bedYMm', bedYMm, leastBedMm, mostBedMm, 'size'),
    ...outside('bedZMm', bedZMm, leastBedMm, mostBedMm, 'size'),
    ...outside('slotAllowanceMm', slotAllowanceMm, 0, mostAllowanceMm, 'size'),
    ...outside('jointAllowanceMm', jointAllowanceMm, 0, mostAllowanceMm, 'size'),
  ]
}
