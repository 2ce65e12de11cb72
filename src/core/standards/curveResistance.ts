import { DEGREE_CHORD_MM } from './degree.ts'

/** What a degree of curve pulls like, as a grade. Railways took 0.04 to 0.05 per cent. */
const GRADE_PER_DEGREE = 0.0004

/**
 * The grade that pulls like a curve does.
 *
 *   A curve of radius R turns 5729.6 / R[ft] degrees in an arc of 100 ft at full size, and each is worth 0.04 per cent of grade; scaled down that
 *   is 31.6 / R[in] per cent in HO.
 *
 * Units:      mm on the model; ratio prototype : model; the result is rise over run.
 * Domain:     radius > 0, ratio > 0.
 * Exactness:  as good as the rule: it was measured with full-size wheels on curves of a few degrees, and model curves have twenty and more.
 * Source:     [EM-1110-3-152 para 3-3]
 */
export function curveResistanceGrade(radiusMm: number, ratio: number): number {
  const degrees = (DEGREE_CHORD_MM / (radiusMm * ratio)) * (180 / Math.PI)
  return GRADE_PER_DEGREE * degrees
}
