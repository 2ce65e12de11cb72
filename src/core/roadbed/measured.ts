import { elementSharpness } from '../geom/index.ts'
import type { Path } from '../geom/types.ts'

/**
 * Lengths along the exact offsets of a path. The offset d of a line of curvature k is (1 - k d) times as long, so that between two stations it
 * measures their distance less d times the turn between them, whatever easements lie there. Left positive. Derived.
 */
export interface MeasuredPath {
  readonly path: Path
  /** Turn from the path's start, rad, left positive. */
  turnAt(stationMm: number): number
  /** Length of the offset from the path's start. */
  alongAt(stationMm: number, offsetMm: number): number
  /** The station at which the offset is so long: the inverse of alongAt, while the offset does not reach a centre of curvature. */
  stationAt(alongMm: number, offsetMm: number): number
}

export function pathMeasured(path: Path): MeasuredPath {
  const turns = [0]
  for (const { lengthMm, k0, k1 } of path.elements) turns.push((turns.at(-1) ?? 0) + ((k0 + k1) / 2) * lengthMm)
  const { elements } = path
  const starts = elements.map(({ startStationMm }) => startStationMm)

  const turnAt = (stationMm: number): number => {
    const at = lastNotAbove(starts, stationMm)
    const element = elements[at]
    if (!element) return 0
    const s = Math.min(Math.max(stationMm - element.startStationMm, 0), element.lengthMm)
    return (turns[at] ?? 0) + s * (element.k0 + 0.5 * elementSharpness(element) * s)
  }
  const alongAt = (stationMm: number, offsetMm: number): number => stationMm - offsetMm * turnAt(stationMm)
  return {
    path,
    turnAt,
    alongAt,
    stationAt(alongMm, offsetMm) {
      const lengths = starts.map((start, i) => start - offsetMm * (turns[i] ?? 0))
      const at = lastNotAbove(lengths, alongMm)
      const element = elements[at]
      if (!element) return alongMm
      const left = alongMm - (lengths[at] ?? 0)
      // (1 - d k0) s - (d c / 2) s^2 = left, in the form that does not cancel.
      const b = 1 - offsetMm * element.k0
      const root = Math.sqrt(Math.max(0, b * b - 2 * offsetMm * elementSharpness(element) * left))
      return element.startStationMm + (left === 0 ? 0 : (2 * left) / (b + root))
    },
  }
}

/** Index of the last of rising values that is not above one; 0 where all are. */
function lastNotAbove(values: readonly number[], value: number): number {
  let [low, high] = [0, values.length - 1]
  while (low < high) {
    const middle = (low + high + 1) >> 1
    if ((values[middle] ?? Infinity) <= value) low = middle
    else high = middle - 1
  }
  return low
}
