import type { Point } from '../../geom/types.ts'
import type { Strand, TileWindow } from './types.ts'

/** A strand made ready for the search: which ribs a sheet must hold for a rib to be well inside of the shared part. */
export interface SearchStrand {
  readonly count: number
  readonly isLoop: boolean
  /** Indices of the first and last rib that must be on the sheet with rib i. Round a loop they run below 0 and past the count. */
  readonly low: Int32Array
  readonly high: Int32Array
  /** Points of rib i: from at[i] up to at[i + 1] in x and y. */
  readonly at: Int32Array
  readonly x: Float64Array
  readonly y: Float64Array
  /** Middle of each rib. */
  readonly middles: readonly Point[]
  /** Length of line that each rib stands for. */
  readonly weight: Float64Array
}

/** Half the overlap and a rib on either side go with each rib: two neighbours then share at least the overlap along the line. */
export function searchStrand(strand: Strand, { overlapMm }: TileWindow): SearchStrand {
  const { ribs } = strand
  const count = ribs.length
  const loopMm = strand.loopMm ?? null
  const stationAt = (i: number): number => {
    const turns = Math.floor(i / count)
    return (ribs[i - turns * count]?.stationMm ?? 0) + turns * (loopMm ?? 0)
  }
  const [low, high, weight] = [new Int32Array(count), new Int32Array(count), new Float64Array(count)]
  const [first, last] = loopMm === null ? [0, count - 1] : [-count, 2 * count - 1]
  let [a, b] = [first, first]
  for (let i = 0; i < count; i++) {
    const station = stationAt(i)
    while (a < i && stationAt(a + 1) <= station - overlapMm / 2) a++
    while (b < last && (b < i || stationAt(b) < station + overlapMm / 2)) b++
    low[i] = a
    high[i] = b
    const [before, after] = [Math.max(first, i - 1), Math.min(last, i + 1)]
    weight[i] = (stationAt(after) - stationAt(before)) / 2
  }
  const all = ribs.flatMap(({ points }) => points)
  const at = new Int32Array(count + 1)
  ribs.forEach(({ points }, i) => {
    at[i + 1] = (at[i] ?? 0) + points.length
  })
  return {
    count,
    isLoop: loopMm !== null,
    low,
    high,
    at,
    x: Float64Array.from(all, (p) => p.x),
    y: Float64Array.from(all, (p) => p.y),
    middles: ribs.map(({ points }) => ({
      x: points.reduce((sum, p) => sum + p.x, 0) / points.length,
      y: points.reduce((sum, p) => sum + p.y, 0) / points.length,
    })),
    weight,
  }
}

/** Index of a rib within its strand; round a loop -1 is the last. */
export function ribIndex({ count }: Pick<SearchStrand, 'count'>, i: number): number {
  return i < 0 ? i + count : i >= count ? i - count : i
}

/** A box that grows in place: the search makes millions of them. */
export interface Bounds {
  minX: number
  minY: number
  maxX: number
  maxY: number
}

/** Holds nothing yet. */
export const boundsNone = (): Bounds => ({ minX: Infinity, minY: Infinity, maxX: -Infinity, maxY: -Infinity })

export function boundsCopy(from: Bounds, to: Bounds): void {
  to.minX = from.minX
  to.minY = from.minY
  to.maxX = from.maxX
  to.maxY = from.maxY
}

/** Widens bounds by the points of one rib, in the frame turned by minus the angle of this cosine and sine. */
export function ribWiden(strand: SearchStrand, rib: number, cos: number, sin: number, bounds: Bounds): void {
  let { minX, minY, maxX, maxY } = bounds
  for (let k = strand.at[rib] ?? 0; k < (strand.at[rib + 1] ?? 0); k++) {
    const px = strand.x[k] ?? 0
    const py = strand.y[k] ?? 0
    const x = px * cos + py * sin
    const y = py * cos - px * sin
    if (x < minX) minX = x
    if (x > maxX) maxX = x
    if (y < minY) minY = y
    if (y > maxY) maxY = y
  }
  bounds.minX = minX
  bounds.minY = minY
  bounds.maxX = maxX
  bounds.maxY = maxY
}

/** Boxes of the ribs from one index to another in the frame turned by -angle, in turn minX, minY, maxX, maxY. */
export function ribBoxes(strand: SearchStrand, from: number, to: number, angleRad: number): Float64Array {
  const [cos, sin] = [Math.cos(angleRad), Math.sin(angleRad)]
  const boxes = new Float64Array(4 * (to - from + 1))
  for (let i = from; i <= to; i++) {
    const rib = ribIndex(strand, i)
    const bounds = boundsNone()
    ribWiden(strand, rib, cos, sin, bounds)
    boxes.set([bounds.minX, bounds.minY, bounds.maxX, bounds.maxY], 4 * (i - from))
  }
  return boxes
}
