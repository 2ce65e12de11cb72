import { pathNearest } from '../../geom/index.ts'
import type { Path } from '../../geom/types.ts'
import { peakGolden } from '../golden.ts'
import { posePast } from './stretch.ts'
import type { SolvedAlignment, SpacingAt } from './types.ts'

/** Places looked at between two changes of curvature of either line; the spacing sways once or twice there. */
const PLACES = 12

/**
 * The least and the most distance of a line to its parallel, along a stretch of it.
 *
 * Exactness:  at every place looked at, that of pathNearest; the extremes are refined between their neighbours.
 */
export function parallelSpacing(
  alignment: SolvedAlignment,
  fromMm: number,
  toMm: number,
  parallel: Path,
): { readonly least: SpacingAt; readonly most: SpacingAt } {
  const spacingAt = (stationMm: number): number => pathNearest(parallel, posePast(alignment, stationMm)).distanceMm
  const stations = stationsLooked(alignment, fromMm, toMm, parallel)
  const found = stations.map((stationMm): SpacingAt => ({ stationMm, spacingMm: spacingAt(stationMm) }))
  const extreme = (sign: 1 | -1): SpacingAt => {
    let best = 0
    for (const [i, { spacingMm }] of found.entries()) if (sign * spacingMm > sign * (found[best]?.spacingMm ?? 0)) best = i
    const low = stations[Math.max(0, best - 1)] ?? fromMm
    const high = stations[Math.min(stations.length - 1, best + 1)] ?? toMm
    const stationMm = peakGolden((mm) => sign * spacingAt(mm), low, high)
    const refined: SpacingAt = { stationMm, spacingMm: spacingAt(stationMm) }
    const coarse = found[best] ?? refined
    return sign * refined.spacingMm > sign * coarse.spacingMm ? refined : coarse
  }
  return { least: extreme(-1), most: extreme(1) }
}

/** Stations between which neither line changes its law of curvature, and places between them. */
function stationsLooked({ path, isClosed }: SolvedAlignment, fromMm: number, toMm: number, parallel: Path): readonly number[] {
  const own = path.elements.map(({ startStationMm }) => startStationMm)
  const beside = parallel.elements.map(({ start }) => pathNearest(path, start).stationMm)
  const laps = isClosed ? [0, path.lengthMm] : [0]
  const inside = laps.flatMap((lapMm) => [...own, ...beside].map((mm) => mm + lapMm)).filter((mm) => mm > fromMm && mm < toMm)
  const marks = [fromMm, ...inside.sort((a, b) => a - b), toMm]
  return marks.flatMap((mm, i) => {
    const next = marks[i + 1]
    if (next === undefined) return [mm]
    return Array.from({ length: PLACES }, (_, part) => mm + (part / PLACES) * (next - mm))
  })
}
