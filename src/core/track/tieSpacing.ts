import type { Stretch } from '../network/index.ts'

/** More ties than this on one track is no tie spacing but a slip of the hand; none are laid. A scale mile has some 3200. */
const mostTies = 100_000

/**
 * Stations of ties between two neighbours, evenly.
 *
 * Between a tie at `fromMm` and one at `toMm` (neither counted) as many ties as come nearest to the wanted spacing, all
 * gaps equal. Where there is no neighbour but the end of the track, the caller sets one half a spacing beyond it.
 *
 * Domain:     spacing > 0. A gap shorter than a spacing and a half gets no tie.
 * Exactness:  the spacing differs from the wanted one by less than half of it shared among all gaps.
 */
export function tieStations({ fromMm, toMm }: Stretch, spacingMm: number): number[] {
  const gaps = Math.round((toMm - fromMm) / spacingMm)
  if (!(gaps > 1 && gaps <= mostTies)) return []
  const step = (toMm - fromMm) / gaps
  return Array.from({ length: gaps - 1 }, (_, i) => fromMm + step * (i + 1))
}
