/** Between railhead and what lies over it, ft at full size. In HO that is the 3 in of the model standard, a thirty-second more. */
const CLEAR_HEIGHT_FT = 22

/** The key under which the source of the clear height is listed. */
export const clearHeightSource = 'NMRA-S-7'

/**
 * Height that must be clear over the railhead where one track passes over another.
 *
 * Units:      mm on the model; ratio prototype : model.
 * Domain:     ratio > 0.
 * Exactness:  exact up to rounding. Trains of stacked containers want about a foot and a half more at full size.
 * Source:     [NMRA-S-7]
 */
export function clearHeightOver(ratio: number): number {
  return (CLEAR_HEIGHT_FT * 304.8) / ratio
}
