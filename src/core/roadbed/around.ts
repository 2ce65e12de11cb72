import { pathFromElements, pathReverse, pathSlice, pathsJoined, pathStart } from '../geom/index.ts'
import type { Path } from '../geom/types.ts'

/** A solved line. */
export interface SolvedLine {
  readonly path: Path
  readonly isClosed: boolean
}

/**
 * So much of a line ahead of a station, as one sees it who goes that way. Round and round a closed one; where an open one ends it runs
 * straight on. Domain: 0 <= station <= length, lengths of 0 or more.
 */
export function pathAhead({ path, isClosed }: SolvedLine, stationMm: number, direction: 1 | -1, lengthMm: number): Path {
  const way = direction === 1 ? path : pathReverse(path)
  const from = direction === 1 ? stationMm : path.lengthMm - stationMm
  const first = pathSlice(way, from, Math.min(way.lengthMm, from + lengthMm))
  const rest = lengthMm - first.lengthMm
  const rounds = isClosed && way.lengthMm > 0 ? Math.floor(rest / way.lengthMm) : 0
  const last = isClosed ? rest - rounds * way.lengthMm : 0
  const parts = [first, ...Array.from({ length: rounds }, () => way), ...(last > 0 ? [pathSlice(way, 0, last)] : [])]
  const left = isClosed ? 0 : rest
  const joined = pathsJoined(parts)
  return left > 0 ? pathRunOn(joined, left) : joined
}

/** A line about a station: so much before and behind it, told along rising stations. */
export function pathAround(line: SolvedLine, stationMm: number, reachMm: number): Path {
  return pathsJoined([pathReverse(pathAhead(line, stationMm, -1, reachMm)), pathAhead(line, stationMm, 1, reachMm)])
}

function pathRunOn(path: Path, byMm: number): Path {
  return pathFromElements(pathStart(path), [...path.elements, { lengthMm: byMm, k0: 0, k1: 0 }])
}
