import type { Breach } from './breaches.ts'
import type { Run } from './run.ts'

/** Cosine of the angle from square, about 25 degrees, up to which a line runs out at an edge; more is a slant. */
const squareCosine = 0.9
/** Ends of a stretch and distances are known to this, mm. */
const roundingMm = 0.01

/**
 * Whether a stretch is nothing but the piece before a track's free end that runs out square at what it comes near to, and not past it: a car
 * stops there, or the line goes on over the next section. What runs along an edge, or comes near at a slant, comes nearer by less than it runs.
 *
 * distanceAt: from the centreline at a station of the run, mm, negative past it.
 * Source:     common practice, no source.
 */
export function isSquareEnd(run: Run, { fromMm, toMm }: Breach, distanceAt: (runMm: number) => number): boolean {
  if (run.table !== 'tracks' || run.isClosed) return false
  const isFreeStart = run.startTurnout === null && fromMm === 0
  const isFreeEnd = run.endTurnout === null && toMm === run.path.lengthMm
  if (isFreeStart === isFreeEnd) return false
  const [endMm, innerMm] = isFreeEnd ? [toMm, fromMm] : [fromMm, toMm]
  const leftMm = distanceAt(endMm)
  return leftMm > -roundingMm && distanceAt(innerMm) - leftMm > squareCosine * (toMm - fromMm) - roundingMm
}
