import type { JigLimit, JigProblem, JigValueName } from './types.ts'

/** Thinnest wall that prints and stands: two lines of a usual nozzle of 0.4 mm. Common practice, no source. */
export const wallMm = 0.8
/** Floor below grooves and slots: stiff, and some ten layers. Common practice, no source. */
export const floorMm = 2.4
/** Longest jig: what a bench takes. Common practice, no source. */
export const longestMm = 3000
/** Curves are drawn by chords that leave them by no more, mm. A printer's line is some hundred times as wide. */
export const chordToleranceMm = 0.002
/** Cuts reach so far beyond what they cut. */
export const beyondMm = 1

/** Problem of a value outside of its bounds, both of them allowed; nothing when it is inside. NaN is outside. */
export function outside(where: JigValueName, value: number, least: number, most: number | null, because: JigLimit): readonly JigProblem[] {
  const isInside = Number.isFinite(value) && value >= least && (most === null || value <= most)
  return isInside ? [] : [{ kind: 'badValue', where, value, least, most, because }]
}
