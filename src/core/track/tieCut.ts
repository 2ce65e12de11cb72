import type { Point } from '../geom/types.ts'
import type { Railway } from '../plan/types.ts'
import { tieCorners } from './rail.ts'
import { tiesOverlap } from './tieOverlap.ts'
import type { Tie } from './types.ts'

/** A tie that is cut holds its rail by so many feet of the rail beyond it. Common practice, no source. */
const holdFeet = 1
/** Between a tie that is cut and the one it is cut for, in tie widths. Common practice, no source. */
const clearWidths = 0.08

/** From the middle of a track to the end of the shortest tie that holds it, mm. */
export function tieHold({ gaugeMm, railHeadMm, railFootMm }: Pick<Railway, 'gaugeMm' | 'railHeadMm' | 'railFootMm'>): number {
  return gaugeMm / 2 + railHeadMm / 2 + (0.5 + holdFeet) * railFootMm
}

/**
 * A tie cut back at its ends so that it clears the others; null where one lies under its rails. middleMm: where along the tie, from its own middle, the
 * track lies that it has to hold.
 */
export function tieCutBack<T extends Tie>(
  tie: T,
  others: readonly Tie[],
  { holdMm, middleMm }: { readonly holdMm: number; readonly middleMm: number },
): T | null {
  const clearMm = clearWidths * tie.widthMm
  let [low, high] = [-tie.lengthMm / 2, tie.lengthMm / 2]
  for (const other of others) {
    if (!tiesOverlap(tie, other)) continue
    const within = alongWithin(cornersSeenFrom(other, tie), tie.widthMm / 2)
    if (within === null) continue
    if (within.fromMm - clearMm >= middleMm + holdMm) high = Math.min(high, within.fromMm - clearMm)
    else if (within.toMm + clearMm <= middleMm - holdMm) low = Math.max(low, within.toMm + clearMm)
    else return null
  }
  const at = (low + high) / 2
  const { centre, axisRad } = tie
  return { ...tie, centre: { x: centre.x + at * Math.cos(axisRad), y: centre.y + at * Math.sin(axisRad) }, lengthMm: high - low }
}

/** How far a ring reaches along x where it lies within a band about the x axis; null: it does not. */
function alongWithin(ring: readonly Point[], halfMm: number): { readonly fromMm: number; readonly toMm: number } | null {
  const xs = ring.flatMap((p, i) => {
    const q = ring[(i + 1) % ring.length] ?? p
    const cuts = [halfMm, -halfMm].flatMap((y) => ((p.y - y) * (q.y - y) < 0 ? [p.x + ((q.x - p.x) * (y - p.y)) / (q.y - p.y)] : []))
    return Math.abs(p.y) <= halfMm ? [p.x, ...cuts] : cuts
  })
  return xs.length === 0 ? null : { fromMm: Math.min(...xs), toMm: Math.max(...xs) }
}

/** Corners of a tie as another sees them: along its axis and across. */
function cornersSeenFrom(tie: Tie, { centre, axisRad }: Tie): readonly Point[] {
  const [c, s] = [Math.cos(axisRad), Math.sin(axisRad)]
  return tieCorners(tie).map(({ x, y }) => {
    const [dx, dy] = [x - centre.x, y - centre.y]
    return { x: dx * c + dy * s, y: dy * c - dx * s }
  })
}
