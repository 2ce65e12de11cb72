import { pathMove, pathPoseAt, pathReverse, pathSlice, pathStart, pathsJoined, poseJump } from '../geom/index.ts'
import type { PathJump } from '../geom/index.ts'
import type { Path, Point, Pose } from '../geom/types.ts'
import { stationsOnLevel, trackLevels } from '../levels/index.ts'
import type { Network, NetworkTrack, NetworkTurnout } from '../network/types.ts'
import type { Id, Track, TurnoutLeg } from '../plan/types.ts'
import type { RouteName } from '../turnout/index.ts'
import type { Span, TrackLine } from './types.ts'

/** Ends of two tracks this near and this much in line are one line that goes on under another name. */
const contactMm = 1
const contactSine = 0.02

/** What lies before the start of a track, ending there: the route of its turnout, and what cars come from. */
interface Approach {
  readonly route: Path | null
  readonly before: Path | null
}

/**
 * The line over which cars run on a track: behind a leg the diverging route and the host ahead of the points, behind an end that touches
 * another track's end that track, each as far as asked or as it goes.
 *
 * Outcome: null for a track that is not there or not solved. A loop is its own line.
 */
export function trackLine(network: Network, track: Id, runOnMm: number): TrackLine | null {
  const solved = network.tracks.get(track)
  if (!solved?.alignment.ok) return null
  const { path, isClosed } = solved.alignment
  const level = trackLevels(network).of(track)
  if (isClosed) return { track, path, isClosed, span: { fromMm: 0, toMm: path.lengthMm }, startMm: 0, endMm: path.lengthMm, level }
  const start = approach(network, solved, 'start', runOnMm)
  const end = approach(network, solved, 'end', runOnMm)
  const beforeMm = start.before?.lengthMm ?? 0
  const startMm = beforeMm + (start.route?.lengthMm ?? 0)
  const endMm = startMm + path.lengthMm
  const toMm = endMm + (end.route?.lengthMm ?? 0)
  const turned = (one: Path | null): Path | null => (one === null ? null : pathReverse(one))
  const parts = [start.before, start.route, path, turned(end.route), turned(end.before)]
  const whole = pathsJoined(parts.filter((part) => part !== null))
  return { track, path: whole, isClosed, span: { fromMm: beforeMm, toMm }, startMm, endMm, level }
}

/** Stations of another line that are on one level with a place of a line (stationsOnLevel); null: none is. */
export function spanOnLevel(line: TrackLine, stationMm: number, other: TrackLine, alongMm: number): Span | null {
  const found = stationsOnLevel(line.level, stationMm - line.startMm, other.level, alongMm)
  if (found === null) return null
  const fromMm = Math.max(other.span.fromMm, found.fromMm + other.startMm)
  const toMm = Math.min(other.span.toMm, found.toMm + other.startMm)
  return fromMm > toMm ? null : { fromMm, toMm }
}

function approach(network: Network, networkTrack: NetworkTrack, end: 'start' | 'end', runOnMm: number): Approach {
  const { track, alignment } = networkTrack
  const none = { route: null, before: null }
  if (!alignment.ok) return none
  const trackEnd: Track['start'] | Track['end'] = track[end]
  if (trackEnd.kind === 'leg') {
    const turnout = network.turnouts.get(trackEnd.turnout)
    const route = turnout === undefined ? null : routeToLeg(turnout, trackEnd.leg)
    return turnout === undefined || route === null ? none : { route, before: routeBefore(network, turnout, trackEnd.leg, runOnMm) }
  }
  return { route: null, before: lineBefore(network.tracks.values(), track.id, alignment.path, end, runOnMm) }
}

/** What lies before an end of a line that hangs on no turnout, of all these tracks: the one that goes on there, run towards the end; null: none. */
export function lineBefore(tracks: Iterable<NetworkTrack>, track: Id, path: Path, end: 'start' | 'end', runOnMm: number): Path | null {
  const outwards = end === 'start' ? turnedRound(pathPoseAt(path, 0)) : pathPoseAt(path, path.lengthMm)
  return touching(tracks, track, outwards, runOnMm)
}

/** The route of a placed turnout in the plan that leads to a leg, from PS; null: it has no such leg. */
export function routeToLeg(networkTurnout: NetworkTurnout, leg: TurnoutLeg): Path | null {
  const route = routeOf(networkTurnout, leg)
  return route === null || !networkTurnout.result.ok ? null : pathMove(route, networkTurnout.result.pose)
}

/** By how much that route starts off from the host's line, as straight points do; null: not at all. */
export function routeJump(networkTurnout: NetworkTurnout, leg: TurnoutLeg): PathJump | null {
  const route = routeOf(networkTurnout, leg)
  if (route === null) return null
  const alongMm = lapOf(networkTurnout, leg)
  const host = alongMm === 0 ? null : centreOf(networkTurnout, 'straight')
  return poseJump(host === null ? { x: 0, y: 0, headingRad: 0 } : pathPoseAt(host, alongMm), pathStart(route))
}

/** How far behind PS the route to a leg leaves the host: a three-way turnout may lap its second points. */
const lapOf = ({ turnout: { kind } }: NetworkTurnout, leg: TurnoutLeg): number =>
  kind.kind === 'three-way' && leg === 'other' ? kind.secondAfterMm : 0

/** In the turnout's own frame. */
function routeOf(networkTurnout: NetworkTurnout, leg: TurnoutLeg): Path | null {
  const { result } = networkTurnout
  const name = result.ok ? result.geometry.legs.find((one) => one.leg === leg)?.route : undefined
  return name === undefined ? null : centreOf(networkTurnout, name)
}

/** The centreline of one of its routes, from PS. */
function centreOf({ result }: NetworkTurnout, route: RouteName): Path | null {
  return result.ok ? (result.geometry.routes.find(({ name }) => name === route)?.centre ?? null) : null
}

/** The host up to where the route to a leg of a turnout leaves it, run towards there. */
export function routeBefore(network: Network, networkTurnout: NetworkTurnout, leg: TurnoutLeg, runOnMm: number): Path | null {
  const { turnout, result } = networkTurnout
  const host = network.tracks.get(turnout.track)
  if (!result.ok || !host?.alignment.ok) return null
  const { path } = host.alignment
  const alongMm = lapOf(networkTurnout, leg)
  if (turnout.facing === 'rising') {
    const toMm = Math.min(path.lengthMm, turnout.stationMm + alongMm)
    return pathSlice(path, Math.max(0, toMm - runOnMm), toMm)
  }
  const fromMm = Math.max(0, turnout.stationMm - alongMm)
  return pathReverse(pathSlice(path, fromMm, Math.min(path.lengthMm, fromMm + runOnMm)))
}

/** The stretch of another track that goes on from an end whose pose looks outwards, run towards that end; null: none does. */
function touching(tracks: Iterable<NetworkTrack>, track: Id, outwards: Pose, runOnMm: number): Path | null {
  for (const other of tracks) {
    if (other.track.id === track || !other.alignment.ok || other.alignment.isClosed) continue
    const { path } = other.alignment
    // Looked at for thousands of tracks after each edit: what ends far away is told without a pose.
    if (!isBeside(outwards, pathStart(path)) && !isBeside(outwards, path.end)) continue
    const overMm = Math.min(runOnMm, path.lengthMm)
    if (isContact(outwards, pathPoseAt(path, 0))) return pathReverse(pathSlice(path, 0, overMm))
    if (isContact(outwards, turnedRound(pathPoseAt(path, path.lengthMm)))) return pathSlice(path, path.lengthMm - overMm, path.lengthMm)
  }
  return null
}

const turnedRound = ({ x, y, headingRad }: Pose): Pose => ({ x, y, headingRad: headingRad + Math.PI })

/** Ends of paths are known but for rounding. */
const isBeside = (a: Point, b: Point): boolean => Math.abs(a.x - b.x) < 2 * contactMm && Math.abs(a.y - b.y) < 2 * contactMm

function isContact(a: Pose, b: Pose): boolean {
  const turn = a.headingRad - b.headingRad
  return Math.hypot(a.x - b.x, a.y - b.y) < contactMm && Math.cos(turn) > 0 && Math.abs(Math.sin(turn)) < contactSine
}
