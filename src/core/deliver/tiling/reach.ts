import type { SearchStrand } from './ribs.ts'
import { boundsCopy, boundsNone, ribIndex, ribWiden } from './ribs.ts'
import type { TileWindow } from './types.ts'

/** A window laid on a strand from one rib on, as far as it goes. Turned frame, plan mm. */
export interface Reach {
  readonly angleRad: number
  /** Last rib that the sheet serves, the strand's own index run on past the start of a loop. */
  readonly to: number
  /** Box of all ribs that it holds for that. */
  readonly box: { readonly minX: number; readonly minY: number; readonly maxX: number; readonly maxY: number }
}

/** Room kept at the edges of a window: ribs are samples, and between two of them an edge may bulge by a hundredth. */
const RIM_MM = 0.25
const COARSE = 36
const half = Math.PI

/** The length and height of a window that ribs may take. */
export function usable({ widthMm, heightMm }: TileWindow): { readonly widthMm: number; readonly heightMm: number } {
  return { widthMm: widthMm - 2 * RIM_MM, heightMm: heightMm - 2 * RIM_MM }
}

/** How far one sheet at this angle serves the strand from a rib on; null when it does not even hold that one. */
export function reachAt(strand: SearchStrand, from: number, angleRad: number, window: TileWindow): Reach | null {
  const room = usable(window)
  const { count, isLoop } = strand
  const lap = Math.floor(from / count) * count
  const start = (strand.low[ribIndex(strand, from - lap)] ?? 0) + lap
  const limit = isLoop ? from + count - 1 : count - 1
  const [cos, sin] = [Math.cos(angleRad), Math.sin(angleRad)]
  // Two in turn: what is held so far, and that with one rib more.
  let [box, next] = [boundsNone(), boundsNone()]
  let served = -1
  let held = start
  for (let to = from; to <= limit; to++) {
    const turns = Math.floor(to / count) * count
    const high = (strand.high[to - turns] ?? 0) + turns
    boundsCopy(box, next)
    for (; held <= high; held++) ribWiden(strand, ((held % count) + count) % count, cos, sin, next)
    if (next.maxX - next.minX > room.widthMm || next.maxY - next.minY > room.heightMm) break
    ;[box, next] = [next, box]
    served = to
  }
  return served < 0 ? null : { angleRad, to: served, box }
}

/** Ways to lie that are tried: along and across the line first, then all round; the best of them are then made finer. */
export function reachAngles(headingRad: number): readonly number[] {
  return Array.from({ length: COARSE }, (_, i) => headingRad + ((i % 2 === 0 ? i / 2 : (i + COARSE - 1) / 2) * half) / COARSE)
}

/** The farthest reach of all angles; among equals the one tried first. */
export function reachFarthest(strand: SearchStrand, from: number, window: TileWindow): Reach | null {
  const { count } = strand
  const ahead = strand.middles[strand.isLoop ? (from + 1) % count : Math.min(count - 1, from + 1)]
  const here = strand.middles[ribIndex(strand, from % count)]
  const headingRad = ahead && here ? Math.atan2(ahead.y - here.y, ahead.x - here.x) : 0
  let best: Reach | null = null
  const look = (angleRad: number): void => {
    const reach = reachAt(strand, from, angleRad, window)
    if (reach !== null && (best === null || reach.to > best.to)) best = reach
  }
  for (const angleRad of reachAngles(headingRad)) look(angleRad)
  // Halves of the coarse step, on both sides of the best so far.
  for (let step = half / COARSE / 2; step > 0.003; step /= 2) {
    const middle: number = (best as Reach | null)?.angleRad ?? headingRad
    look(middle - step)
    look(middle + step)
  }
  return best
}
