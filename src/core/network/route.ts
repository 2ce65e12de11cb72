import { pathMove, pathPoseAt, pathReverse, pathSlice } from '../geom/index.ts'
import type { Path, PathElement, Pose } from '../geom/types.ts'
import type { Id, TrackEndName, TurnoutLeg } from '../plan/types.ts'
import { trackPath } from './trackPath.ts'
import type { Network, NetworkTrack, NetworkTurnout } from './types.ts'

/** How the points of a turnout lie. */
export type Lined = 'straight' | TurnoutLeg

/** A place on a track, and which way is ahead. */
export interface RoutePlace {
  readonly track: Id
  readonly stationMm: number
  readonly isRising: boolean
}

/** A stretch of a route on one track, or on the route of a turnout to its leg; fromMm along the route. */
export type RoutePiece =
  | {
      readonly kind: 'track'
      readonly track: Id
      readonly fromMm: number
      readonly lengthMm: number
      readonly stationMm: number
      readonly isRising: boolean
    }
  | {
      readonly kind: 'leg'
      readonly turnout: Id
      readonly leg: TurnoutLeg
      readonly fromMm: number
      readonly lengthMm: number
      readonly isToLeg: boolean
    }

/** Points that a route runs through from their tip to their legs, either way; atMm: their tip, along the route. */
export interface RoutePoints {
  readonly turnout: Id
  readonly lined: Lined
  readonly choices: readonly Lined[]
  readonly atMm: number
  /** Run towards from the tip when going ahead. */
  readonly isFacing: boolean
}

/** Why a route does not go on: track is laid no further, a leg has no track yet; or it does, farther than was asked. */
export type RouteEnd =
  | { readonly kind: 'trackEnd'; readonly track: Id; readonly end: TrackEndName }
  | { readonly kind: 'legEnd'; readonly turnout: Id; readonly leg: TurnoutLeg }
  | { readonly kind: 'goesOn' }

/** The line that wheels would follow from a place, both ways, as the points lie. */
export interface Route {
  readonly path: Path
  /** The place that it was asked from, along the path. */
  readonly placeMm: number
  readonly pieces: readonly RoutePiece[]
  readonly points: readonly RoutePoints[]
  readonly ahead: RouteEnd
  readonly behind: RouteEnd
}

/** Ends of two tracks this near and this much in line are one line. */
const contactMm = 1
const contactSine = 0.02
/** A route of more pieces goes round and round. */
const mostPieces = 400

/**
 * Route from a place, aheadMm one way and behindMm the other, or as far as there is track. Points named in `lined` lie so; others lie
 * straight, a wye for its diverging leg. Coming from a leg they are run through as that leg asks.
 *
 * Outcome: null when the track is not there or not solved, or the place is off it.
 */
export function routeFrom(
  network: Network,
  place: RoutePlace,
  lined: ReadonlyMap<Id, Lined>,
  reach: { readonly aheadMm: number; readonly behindMm: number },
): Route | null {
  const path = trackPath(network, place.track)
  if (path === null || place.stationMm < 0 || place.stationMm > path.lengthMm) return null
  const ahead = walk(network, place, lined, reach.aheadMm)
  const behind = walk(network, { ...place, isRising: !place.isRising }, lined, reach.behindMm)
  const placeMm = behind.lengthMm
  const start = behind.steps.map(({ path: one }) => pathReverse(one)).toReversed()
  const whole = joined([...start, ...ahead.steps.map(({ path: one }) => one)])
  return {
    path: whole ?? pathSlice(path, place.stationMm, place.stationMm),
    placeMm,
    pieces: [
      ...behind.steps.map(({ piece }) => turned(piece, placeMm)).toReversed(),
      ...ahead.steps.map(({ piece }) => moved(piece, placeMm)),
    ],
    points: [
      ...behind.points.map((one) => ({ ...one, atMm: placeMm - one.atMm, isFacing: !one.isFacing })).toReversed(),
      ...ahead.points.map((one) => ({ ...one, atMm: placeMm + one.atMm })),
    ],
    ahead: ahead.end,
    behind: behind.end,
  }
}

/** The place of a track under a place along a route; null on the way to a leg. */
export function routePlaceAt({ pieces }: Route, alongMm: number): RoutePlace | null {
  const piece = routePieceAt(pieces, alongMm)
  if (piece?.kind !== 'track') return null
  const { track, stationMm, isRising, fromMm } = piece
  return { track, stationMm: stationMm + (isRising ? 1 : -1) * (alongMm - fromMm), isRising }
}

export function routePieceAt(pieces: readonly RoutePiece[], alongMm: number): RoutePiece | null {
  return pieces.find(({ fromMm, lengthMm }) => alongMm >= fromMm && alongMm <= fromMm + lengthMm) ?? null
}

const moved = <P extends RoutePiece>(piece: P, byMm: number): P => ({ ...piece, fromMm: piece.fromMm + byMm })

/** A piece that was walked backwards, as it lies when going ahead. */
function turned(piece: RoutePiece, placeMm: number): RoutePiece {
  const fromMm = placeMm - piece.fromMm - piece.lengthMm
  if (piece.kind === 'leg') return { ...piece, fromMm, isToLeg: !piece.isToLeg }
  return { ...piece, fromMm, stationMm: piece.stationMm + (piece.isRising ? 1 : -1) * piece.lengthMm, isRising: !piece.isRising }
}

interface Stepped {
  readonly piece: RoutePiece
  readonly path: Path
}
interface Walk {
  readonly steps: readonly Stepped[]
  readonly points: readonly RoutePoints[]
  readonly lengthMm: number
  readonly end: RouteEnd
}

function walk(network: Network, from: RoutePlace, lined: ReadonlyMap<Id, Lined>, reachMm: number): Walk {
  const steps: Stepped[] = []
  const points: RoutePoints[] = []
  let lengthMm = 0
  const take = (piece: RoutePiece, path: Path): void => {
    if (path.lengthMm > 0) steps.push({ piece, path })
    lengthMm += path.lengthMm
  }
  const done = (end: RouteEnd): Walk => ({ steps, points, lengthMm, end })
  let place = from
  /** The points just come through; they are not met again where they stand. */
  let behind: Id | null = null
  for (let piece = 0; piece < mostPieces; piece++) {
    if (lengthMm >= reachMm) break
    const solved = network.tracks.get(place.track)
    const path = trackPath(network, place.track)
    if (solved === undefined || path === null) return done({ kind: 'goesOn' })
    const { isRising, stationMm } = place
    const met = pointsAhead(network, place, behind)
    const through = met.filter(({ turnout }) => linedAt(turnout, lined) === 'straight')
    const turning = met.find(({ turnout }) => linedAt(turnout, lined) !== 'straight')
    const endMm = turning?.atMm ?? (isRising ? path.lengthMm : 0)
    for (const { turnout, atMm, isFacing } of through) {
      if (isRising ? atMm > endMm : atMm < endMm) continue
      points.push({
        turnout: turnout.turnout.id,
        lined: 'straight',
        choices: choicesOf(turnout),
        atMm: lengthMm + Math.abs(atMm - stationMm),
        isFacing,
      })
    }
    take(
      { kind: 'track', track: place.track, fromMm: lengthMm, lengthMm: Math.abs(endMm - stationMm), stationMm, isRising },
      isRising ? pathSlice(path, stationMm, endMm) : pathReverse(pathSlice(path, endMm, stationMm)),
    )
    behind = null
    if (turning !== undefined) {
      const leg = linedAt(turning.turnout, lined)
      const { id } = turning.turnout.turnout
      const route = leg === 'straight' ? null : legRoute(turning.turnout, leg)
      if (leg === 'straight' || route === null) return done({ kind: 'goesOn' })
      points.push({ turnout: id, lined: leg, choices: choicesOf(turning.turnout), atMm: lengthMm, isFacing: true })
      take({ kind: 'leg', turnout: id, leg, fromMm: lengthMm, lengthMm: route.lengthMm, isToLeg: true }, route)
      const next = trackAtLeg(network, id, leg)
      if (next === null) return done({ kind: 'legEnd', turnout: id, leg })
      place = next
      continue
    }
    const onwards = beyondEnd(network, solved, isRising ? 'end' : 'start')
    if (onwards.kind === 'none') return done({ kind: 'trackEnd', track: place.track, end: isRising ? 'end' : 'start' })
    if (onwards.kind === 'leg') {
      const { turnout, leg, route } = onwards
      const { id } = turnout.turnout
      take({ kind: 'leg', turnout: id, leg, fromMm: lengthMm, lengthMm: route.lengthMm, isToLeg: false }, pathReverse(route))
      points.push({ turnout: id, lined: leg, choices: choicesOf(turnout), atMm: lengthMm, isFacing: false })
      behind = id
    }
    place = onwards.place
  }
  return done({ kind: 'goesOn' })
}

interface Met {
  readonly turnout: NetworkTurnout
  readonly atMm: number
  readonly isFacing: boolean
}

/** Turnouts of a track that lie ahead of a place, the nearest first. */
function pointsAhead(network: Network, { track, stationMm, isRising }: RoutePlace, behind: Id | null): readonly Met[] {
  const met = (network.turnoutsOn.get(track) ?? []).flatMap((turnout): readonly Met[] => {
    const { id, stationMm: atMm, facing } = turnout.turnout
    const isAhead = isRising ? atMm >= stationMm : atMm <= stationMm
    return isAhead && id !== behind && turnout.result.ok ? [{ turnout, atMm, isFacing: (facing === 'rising') === isRising }] : []
  })
  // Trailing through the host's own line nothing turns, however the points lie.
  const run = met.filter(({ isFacing }) => isFacing)
  return isRising ? run : run.toReversed()
}

/** Of a turnout run towards from its tip. */
function linedAt(turnout: NetworkTurnout, lined: ReadonlyMap<Id, Lined>): Lined {
  const choices = choicesOf(turnout)
  const chosen = lined.get(turnout.turnout.id)
  return chosen !== undefined && choices.includes(chosen) ? chosen : (choices[0] ?? 'straight')
}

/** How the points of a turnout can lie; a wye has no straight. */
function choicesOf({ turnout, result }: NetworkTurnout): readonly Lined[] {
  const legs = result.ok ? result.geometry.legs.map(({ leg }) => leg) : []
  return turnout.kind.kind === 'wye' ? legs : ['straight', ...legs]
}

function legRoute({ result }: NetworkTurnout, leg: TurnoutLeg): Path | null {
  if (!result.ok) return null
  const name = result.geometry.legs.find((one) => one.leg === leg)?.route
  const route = result.geometry.routes.find((one) => one.name === name)
  return route === undefined ? null : pathMove(route.centre, result.pose)
}

function trackAtLeg(network: Network, turnout: Id, leg: TurnoutLeg): RoutePlace | null {
  for (const { track } of network.tracks.values()) {
    const path = trackPath(network, track.id)
    if (path === null) continue
    if (isLeg(track.start, turnout, leg)) return { track: track.id, stationMm: 0, isRising: true }
    if (isLeg(track.end, turnout, leg)) return { track: track.id, stationMm: path.lengthMm, isRising: false }
  }
  return null
}

function isLeg(end: NetworkTrack['track']['start'] | NetworkTrack['track']['end'], turnout: Id, leg: TurnoutLeg): boolean {
  return end.kind === 'leg' && end.turnout === turnout && end.leg === leg
}

type Onwards =
  | { readonly kind: 'none' }
  | { readonly kind: 'track'; readonly place: RoutePlace }
  | { readonly kind: 'leg'; readonly place: RoutePlace; readonly turnout: NetworkTurnout; readonly leg: TurnoutLeg; readonly route: Path }

function beyondEnd(network: Network, { track, alignment }: NetworkTrack, end: TrackEndName): Onwards {
  if (!alignment.ok) return { kind: 'none' }
  const { path, isClosed } = alignment
  const isRising = end === 'end'
  if (isClosed) return { kind: 'track', place: { track: track.id, stationMm: isRising ? 0 : path.lengthMm, isRising } }
  const there: NetworkTrack['track']['start'] | NetworkTrack['track']['end'] = track[end]
  if (there.kind === 'leg') {
    const turnout = network.turnouts.get(there.turnout)
    const route = turnout === undefined ? null : legRoute(turnout, there.leg)
    if (turnout === undefined || route === null || trackPath(network, turnout.turnout.track) === null) return { kind: 'none' }
    const { track: host, stationMm, facing } = turnout.turnout
    return { kind: 'leg', turnout, leg: there.leg, route, place: { track: host, stationMm, isRising: facing !== 'rising' } }
  }
  const outwards = isRising ? pathPoseAt(path, path.lengthMm) : turnedRound(pathPoseAt(path, 0))
  for (const other of network.tracks.values()) {
    if (other.track.id === track.id || !other.alignment.ok || other.alignment.isClosed) continue
    const far = other.alignment.path
    if (isContact(outwards, pathPoseAt(far, 0))) return { kind: 'track', place: { track: other.track.id, stationMm: 0, isRising: true } }
    if (isContact(outwards, turnedRound(pathPoseAt(far, far.lengthMm))))
      return { kind: 'track', place: { track: other.track.id, stationMm: far.lengthMm, isRising: false } }
  }
  return { kind: 'none' }
}

const turnedRound = ({ x, y, headingRad }: Pose): Pose => ({ x, y, headingRad: headingRad + Math.PI })

function isContact(a: Pose, b: Pose): boolean {
  const turn = a.headingRad - b.headingRad
  return Math.hypot(a.x - b.x, a.y - b.y) < contactMm && Math.cos(turn) > 0 && Math.abs(Math.sin(turn)) < contactSine
}

/** Paths laid end to end; each stays where it lies, so that what is off where two tracks touch does not grow along the route. Null for none. */
function joined(paths: readonly Path[]): Path | null {
  const last = paths.at(-1)
  if (last === undefined) return null
  const elements: PathElement[] = []
  let lengthMm = 0
  for (const path of paths) {
    for (const element of path.elements) elements.push({ ...element, startStationMm: lengthMm + element.startStationMm })
    lengthMm += path.lengthMm
  }
  return { elements, lengthMm, end: last.end }
}
