import type { Alignment } from '../alignment/types.ts'
import type { HelixNumbers, Railway } from '../plan/types.ts'
import { clearHeightOver, railByCode } from '../standards/index.ts'

/** How high a helix stands along its track, and what its turns leave between them. */
export interface HelixLevels {
  /** Stations of its track between which it climbs, mm. */
  readonly footMm: number
  readonly headMm: number
  readonly climbMm: number
  readonly grade: number
  readonly turnRad: number
  readonly risePerTurnMm: number
  /** Between a railhead and what lies over it. */
  readonly clearMm: number
  /** From railhead to railhead of tracks that leave the usual height clear between them. */
  readonly needMm: number
}

/** From a railhead down to where the room under its deck begins, mm. */
export function deckUnderRail({ railCode }: Railway, deckMm: number): number {
  return deckMm + (railByCode(railCode)?.heightMm ?? 0)
}

/**
 * The levels of a helix on its solved track: it climbs evenly from the first tangent to the last.
 *
 * Outcome:  null where the track has no curve.
 */
export function helixLevels(
  railway: Railway,
  { climbMm, deckMm }: HelixNumbers,
  { corners }: Extract<Alignment, { readonly ok: true }>,
): HelixLevels | null {
  const [first, last] = [corners[0], corners.at(-1)]
  if (first === undefined || last === undefined) return null
  const [footMm, headMm] = [first.tsMm, last.stMm]
  const grade = climbMm / (headMm - footMm)
  const risePerTurnMm = grade * 2 * Math.PI * first.solution.radiusMm
  const underMm = deckUnderRail(railway, deckMm)
  return {
    footMm,
    headMm,
    climbMm,
    grade,
    turnRad: corners.reduce((sum, { solution }) => sum + Math.abs(solution.deflectionRad), 0),
    risePerTurnMm,
    clearMm: risePerTurnMm - underMm,
    needMm: clearHeightOver(railway.ratio) + underMm,
  }
}
