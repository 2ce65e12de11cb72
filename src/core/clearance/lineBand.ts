import { angleWrap, elementEnd, pathFromElements, pathPoseAt, pathSlice } from '../geom/index.ts'
import type { Path } from '../geom/types.ts'
import { bandEdges, sweepAlong, sweepStations } from '../vehicles/index.ts'
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
 * Exactness:  at each station as lineReach; where the line has a kink, as at straight points, as sweepReach.
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
  const sidesAt = hasKink(whole) ? kinkedReach(whole, bodies) : lineReach(whole, bodies, zones).sidesAt
  const reaches: Reach[] = []
  for (const [i, stationMm] of sweepStations(path, span.fromMm, span.toMm, stepMm).entries()) {
    reaches.push({ ...sidesAt(stationMm + overMm), stationMm })
    if (i % stationsAtOnce === 0) yield undefined
  }
  const band = { path, isClosed, reaches, unreached: [] }
  return { line, band, edges: bandEdges(band) }
}

/** Headings of two elements that meet differ by more than rounding, rad. */
const kinkRad = 1e-6

/** Straight points turn a line at once; bends are told apart by lengths and curvatures alone, which know nothing of that. */
function hasKink({ elements }: Path): boolean {
  return elements.some((element, i) => {
    const next = elements[i + 1]
    return next !== undefined && Math.abs(angleWrap(next.start.headingRad - elementEnd(element, element.start).headingRad)) > kinkRad
  })
}

function kinkedReach(path: Path, bodies: readonly RigidBody[]): (stationMm: number) => Reach {
  return (stationMm) => {
    const at = Math.min(Math.max(stationMm, 0), path.lengthMm)
    const { reaches } = sweepAlong(path, bodies, { stepMm: 1, isClosed: false, fromMm: at, toMm: at })
    return reaches[0] ?? { stationMm, leftMm: 0, rightMm: 0 }
  }
}

/** A loop with so much of its end before its start and of its start behind its end. */
function loopRunOn(path: Path, overMm: number): Path {
  const before = pathSlice(path, path.lengthMm - overMm, path.lengthMm)
  const behind = pathSlice(path, 0, overMm)
  return pathFromElements(pathPoseAt(path, path.lengthMm - overMm), [...before.elements, ...path.elements, ...behind.elements])
}
