import { pathFromElements, pathPoseAt, pathSlice } from '../geom/index.ts'
import type { Path } from '../geom/types.ts'
import { bandEdges, sweepStations } from '../vehicles/index.ts'
import type { Reach, RigidBody } from '../vehicles/index.ts'
import { lineReach } from './reach.ts'
import type { ZoneStore } from './reach.ts'
import { bodiesFeel } from './steady.ts'
import type { SweptTrack, TrackLine } from './types.ts'

/** So many stations are swept between two pauses. */
const stationsAtOnce = 4

/**
 * What bodies sweep on a line, a few stations at a time: like sweptTrack, but bends that were swept before are not swept again, and
 * between two steps the caller can do something else.
 *
 * Units:      mm. Stations at most a step apart, the same as those of sweepAlong.
 * Exactness:  at each station as lineReach.
 */
export function* lineBand(
  line: TrackLine,
  bodies: readonly RigidBody[],
  zones: ZoneStore,
  stepMm: number,
): Generator<undefined, SweptTrack> {
  const { path, isClosed, span } = line
  const overMm = isClosed ? Math.min(path.lengthMm, 2 * bodiesFeel(bodies)) : 0
  const whole = overMm > 0 ? loopRunOn(path, overMm) : path
  const { sidesAt } = lineReach(whole, bodies, zones)
  const reaches: Reach[] = []
  for (const [i, stationMm] of sweepStations(path, span.fromMm, span.toMm, stepMm).entries()) {
    reaches.push({ ...sidesAt(stationMm + overMm), stationMm })
    if (i % stationsAtOnce === 0) yield undefined
  }
  const band = { path, isClosed, reaches, unreached: [] }
  return { line, band, edges: bandEdges(band) }
}

/** A loop with so much of its end before its start and of its start behind its end. */
function loopRunOn(path: Path, overMm: number): Path {
  const before = pathSlice(path, path.lengthMm - overMm, path.lengthMm)
  const behind = pathSlice(path, 0, overMm)
  return pathFromElements(pathPoseAt(path, path.lengthMm - overMm), [...before.elements, ...path.elements, ...behind.elements])
}
