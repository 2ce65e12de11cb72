import type { Id, TieSize } from '../plan/types.ts'
import type { TieJig } from './types.ts'

const inch = 25.4
/** A jig for ties is 12 to 18 in long. Common practice, no source. */
const longestMm = 18 * inch
/** Ties drop in and do not turn: a groove is so much wider. Common practice, no source. */
const looseMm = 0.15
/** Ties stand out of the groove by so much of their thickness, for the tape to take hold. Common practice, no source. */
const proudPart = 0.4
/** To each side of the tie ends, a finger's hold. Common practice, no source. */
const marginMm = 12

/**
 * The jig of a class: as many grooves at the class's spacing as a board of 18 in holds, the first and last half a spacing from its ends, so that
 * strips laid end to end keep the spacing. Domain: spacing above 0.
 */
export function tieJigOf(lineClass: Id, tie: TieSize, spacingMm: number): TieJig {
  const ties = Math.max(1, Math.floor(longestMm / spacingMm))
  return {
    lineClass,
    tie,
    spacingMm,
    ties,
    boardLengthMm: ties * spacingMm,
    boardWidthMm: tie.lengthMm + 2 * marginMm,
    grooveWidthMm: tie.widthMm + looseMm,
    grooveDepthMm: tie.thicknessMm * (1 - proudPart),
    groovesMm: Array.from({ length: ties }, (_, i) => (i + 0.5) * spacingMm),
    stopMm: marginMm,
  }
}
