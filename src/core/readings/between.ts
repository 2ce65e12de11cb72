import { classCars, classVehicles, lineReach, trackLine, zoneStore } from '../clearance/index.ts'
import type { LineSide } from '../clearance/index.ts'
import { pathNearest, pathPoseAt, pathSlice, pathsJoined, pointDistance } from '../geom/index.ts'
import type { Point } from '../geom/types.ts'
import { isOnOtherLevel, trackLevels } from '../levels/index.ts'
import { trackPath } from '../network/index.ts'
import type { Network } from '../network/types.ts'
import type { Id } from '../plan/types.ts'

/** How a track lies beside another at a place of it. */
export interface BetweenTracks {
  readonly centresMm: number
  /**
   * What is left of it between the cars of both classes, mm; below 0: by so much they overlap. null: of one it is not known what runs on
   * it, or one lies over the other.
   */
  readonly clearMm: number | null
  readonly from: Point
  readonly to: Point
}

/**
 * From a place of a track to the nearest place of another one's centreline, and what cars leave free of that.
 *
 * Exactness: that of lineReach, at these two places: the cars of each class, the worst way round, bent as both lines are for as far as a car
 *            feels it.
 * Outcome:   null for a track without a line, or a station that is not on it.
 */
export function betweenTracks(network: Network, track: Id, stationMm: number, other: Id): BetweenTracks | null {
  const [mine, theirs] = [trackPath(network, track), trackPath(network, other)]
  if (mine === null || theirs === null || stationMm < 0 || stationMm > mine.lengthMm) return null
  const from = pathPoseAt(mine, stationMm)
  const there = pathNearest(theirs, from).stationMm
  const to = pathPoseAt(theirs, there)
  const centresMm = pointDistance(from, to)
  const levels = trackLevels(network)
  const isOver = isOnOtherLevel(levels.of(track), stationMm, levels.of(other), there, 0)
  const reaches = isOver ? [] : [reachTowards(network, track, stationMm, to), reachTowards(network, other, there, from)]
  const [one = null, two = null] = reaches
  const clearMm = one === null || two === null ? null : centresMm - one - two
  return { centresMm, clearMm, from: { x: from.x, y: from.y }, to: { x: to.x, y: to.y } }
}

/** How far what runs on a track reaches at a station to the side on which a point lies, mm; null: no car is known. */
function reachTowards(network: Network, track: Id, stationMm: number, point: Point): number | null {
  const solved = network.tracks.get(track)
  if (solved === undefined) return null
  const { bodies, feelMm } = classCars(classVehicles(solved.lineClass, network.plan))
  const line = bodies.length === 0 ? null : trackLine(network, track, feelMm)
  if (line === null) return null
  // A loop goes on round its seam.
  const overMm = line.isClosed ? Math.min(line.path.lengthMm, feelMm) : 0
  const { path } = line
  const whole =
    overMm === 0 ? path : pathsJoined([pathSlice(path, path.lengthMm - overMm, path.lengthMm), path, pathSlice(path, 0, overMm)])
  const atMm = overMm + line.startMm + stationMm
  const { x, y, headingRad } = pathPoseAt(whole, atMm)
  const leftMm = Math.cos(headingRad) * (point.y - y) - Math.sin(headingRad) * (point.x - x)
  const side: LineSide = leftMm >= 0 ? 1 : -1
  return lineReach(whole, bodies, zoneStore()).sideAt(atMm, side)
}
