import { pathMove, pathNearest, pathOffset, pathPoseAt, pathSlice } from '../geom/index.ts'
import type { Path, Point } from '../geom/types.ts'
import type { NetworkCrossing, NetworkTrack, NetworkTurnout } from '../network/types.ts'
import type { Derived } from '../pipeline/types.ts'
import { keptFor, keptOn } from '../plan/index.ts'
import type { Id } from '../plan/types.ts'
import type { RailPart, TurnoutRail, WorkRoute } from '../turnout/types.ts'
import type { RailOwner, RailSide } from './types.ts'

/** A stretch of a link abreast of a track's line: distances along the link, and the lowest and the highest station there. */
export interface Abreast {
  readonly track: Id
  readonly side: RailSide
  readonly fromMm: number
  readonly toMm: number
  readonly lowMm: number
  readonly highMm: number
  readonly stationAt: (alongMm: number) => number
  readonly alongAt: (stationMm: number) => number
}

/** One rail of the trackwork in the plan, from end to end. */
export interface Link {
  readonly owner: RailOwner
  readonly part: 'plain' | RailPart
  /** Index among the rails of its special work; -1: plain. */
  readonly index: number
  readonly code: number
  readonly path: Path
  readonly headSide: 1 | -1
  readonly abreast: readonly Abreast[]
  /** Whether its start and its end are where its track ends. */
  readonly isTrackEnd: readonly [boolean, boolean]
}

const sideOf = (offset: number): RailSide => (offset > 0 ? 'left' : 'right')
const samples = 16
const trackEndMm = 1e-3
/** A rail is that of a route if it stands half a gauge off its line, by so much of the gauge: widened rails count. */
const gaugeSlack = 0.2

/**
 * A function from a derived plan to every rail of its plain track, turnouts and crossings; a track that bends within its own gauge has none. What
 * is as it was keeps its links.
 */
export function linksCreate(): (derived: Derived) => readonly Link[] {
  const plainOf = keptFor(plainLinks)
  const turnoutOf = keptOn<NetworkTurnout, readonly Link[]>()
  const crossingOf = keptOn<NetworkCrossing, readonly Link[]>()
  return ({ network, trackwork }) => {
    const { tracks } = network
    const onLegs = tracksOnLegs(tracks)
    return [
      ...[...tracks.values()].flatMap((track) => plainOf(track, trackwork.tracks.get(track.track.id)?.rails ?? noRails)),
      ...[...network.turnouts.values()].flatMap((turnout) => {
        const guests = onLegs.get(turnout.turnout.id) ?? []
        return turnoutOf(turnout, [tracks.get(turnout.turnout.track), ...guests], () => turnoutLinks(turnout, tracks, guests))
      }),
      ...[...network.crossings.values()].flatMap((crossing) =>
        crossingOf(crossing, [tracks.get(crossing.track), tracks.get(crossing.other)], () => crossingLinks(crossing, tracks)),
      ),
    ]
  }
}

/** Tracks that hang on a turnout, by the turnout. */
function tracksOnLegs(tracks: Tracks): ReadonlyMap<Id, readonly NetworkTrack[]> {
  const found = new Map<Id, NetworkTrack[]>()
  for (const track of tracks.values()) {
    for (const end of [track.track.start, track.track.end]) {
      if (end.kind !== 'leg') continue
      const list = found.get(end.turnout)
      if (list === undefined) found.set(end.turnout, [track])
      else if (!list.includes(track)) list.push(track)
    }
  }
  return found
}

type Tracks = ReadonlyMap<string, NetworkTrack>
const noRails: PlainRails = []

type PlainRails = NonNullable<ReturnType<Derived['trackwork']['tracks']['get']>>['rails']

function plainLinks({ track, railway, alignment }: NetworkTrack, rails: PlainRails): Link[] {
  if (!alignment.ok || alignment.path.elements.some(({ k0, k1 }) => Math.max(Math.abs(k0), Math.abs(k1)) * railway.gaugeMm >= 1.9))
    return []
  return rails.map(({ gaugeLine: { path, offsetMm, fromMm, toMm }, headSide }): Link => {
    const line = pathOffset(pathSlice(path, fromMm, toMm), offsetMm)
    const startRad = pathPoseAt(path, fromMm).headingRad
    // A line d off another is shorter by d times the turn.
    const alongAt = (stationMm: number): number => stationMm - fromMm - offsetMm * (pathPoseAt(path, stationMm).headingRad - startRad)
    const stationAt = (alongMm: number): number => {
      let [low, high] = [fromMm, toMm]
      for (let i = 0; i < 60 && high - low > 1e-9; i++) {
        const middle = (low + high) / 2
        if (alongAt(middle) < alongMm) low = middle
        else high = middle
      }
      return (low + high) / 2
    }
    return {
      owner: { kind: 'track', track: track.id },
      part: 'plain',
      index: -1,
      code: railway.railCode,
      path: line,
      headSide,
      isTrackEnd: [fromMm < trackEndMm, toMm > path.lengthMm - trackEndMm],
      abreast: [
        { track: track.id, side: sideOf(offsetMm), fromMm: 0, toMm: line.lengthMm, lowMm: fromMm, highMm: toMm, stationAt, alongAt },
      ],
    }
  })
}

/** A line with stations that go on along it: a host, or the route to a leg whose track hangs on its end. */
interface Guide {
  readonly track: Id
  readonly path: Path
  readonly gaugeMm: number
  readonly stationOf: (alongMm: number) => number
  readonly isReversed: boolean
}

function turnoutLinks({ turnout, result }: NetworkTurnout, tracks: Tracks, guests: readonly NetworkTrack[]): Link[] {
  if (!result.ok) return []
  const { geometry, pose } = result
  const host = tracks.get(turnout.track)
  if (!host?.alignment.ok) return []
  const guides: Guide[] = [
    {
      track: turnout.track,
      path: host.alignment.path,
      gaugeMm: host.railway.gaugeMm,
      stationOf: (alongMm) => alongMm,
      isReversed: false,
    },
  ]
  for (const { leg, route } of geometry.legs) {
    const way = geometry.routes.find(({ name }) => name === route)
    if (way) guides.push(...legGuides(way, pathMove(way.centre, pose), turnout.id, leg, guests))
  }
  const owner: RailOwner = { kind: 'turnout', turnout: turnout.id }
  return geometry.rails.map((rail, index) => workLink(rail, index, pathMove(rail.gaugeLine, pose), owner, host.railway.railCode, guides))
}

function legGuides(way: WorkRoute, path: Path, turnout: Id, leg: string, guests: readonly NetworkTrack[]): Guide[] {
  for (const { track, alignment } of guests) {
    if (!alignment.ok) continue
    const { lengthMm } = alignment.path
    const isHere = (end: typeof track.start | typeof track.end): boolean => end.kind === 'leg' && end.turnout === turnout && end.leg === leg
    const common = { track: track.id, path, gaugeMm: way.gaugeMm }
    if (isHere(track.start)) return [{ ...common, stationOf: (along) => along - path.lengthMm, isReversed: false }]
    if (isHere(track.end)) return [{ ...common, stationOf: (along) => lengthMm + path.lengthMm - along, isReversed: true }]
  }
  return []
}

function crossingLinks(crossing: NetworkCrossing, tracks: Tracks): Link[] {
  if (!crossing.result.ok) return []
  const guides = [crossing.track, crossing.other].flatMap((id): Guide[] => {
    const track = tracks.get(id)
    if (!track?.alignment.ok) return []
    const { path } = track.alignment
    return [{ track: id, path, gaugeMm: track.railway.gaugeMm, stationOf: (along) => along, isReversed: false }]
  })
  const code = tracks.get(crossing.track)?.railway.railCode ?? 0
  const owner: RailOwner = { kind: 'crossing', crossing: crossing.id }
  return crossing.result.crossing.rails.map((rail, index) =>
    workLink(rail, index, pathMove(rail.gaugeLine, crossing.pose), owner, code, guides),
  )
}

function workLink(rail: TurnoutRail, index: number, path: Path, owner: RailOwner, code: number, guides: readonly Guide[]): Link {
  const part = rail.role.slice(0, rail.role.indexOf('-')) as RailPart
  const isGuard = part === 'guard' || part === 'check'
  return {
    owner,
    part,
    index,
    code,
    path,
    headSide: rail.headSide,
    isTrackEnd: [part === 'stock', part === 'stock'],
    abreast: guides.flatMap((guide) => abreastOf(path, guide, isGuard ? 1 : gaugeSlack) ?? []),
  }
}

/** The part of a rail that stands half a gauge off a guide, stations taken evenly between its ends. */
function abreastOf(path: Path, guide: Guide, slack: number): Abreast | null {
  const found: { readonly along: number; readonly station: number; readonly offset: number }[] = []
  for (let i = 0; i <= samples; i++) {
    const along = (path.lengthMm * i) / samples
    const at: Point = pathPoseAt(path, along)
    const near = pathNearest(guide.path, at)
    const isBeside = Math.abs(Math.abs(near.offsetMm) - near.distanceMm) < 1e-3
    const isOff = Math.abs(Math.abs(near.offsetMm) - guide.gaugeMm / 2) > slack * guide.gaugeMm
    if (!isBeside || isOff) {
      if (found.length > 0) break
      continue
    }
    const here = { along, station: guide.stationOf(near.stationMm), offset: near.offsetMm * (guide.isReversed ? -1 : 1) }
    // On a loop the line may pass its own station zero.
    const last = found.at(-1)
    if (last && Math.abs(here.station - last.station) > 4 * path.lengthMm) break
    found.push(here)
  }
  const [a, b] = [found[0], found.at(-1)]
  if (!a || !b || b.along <= a.along || b.station === a.station) return null
  const rate = (b.station - a.station) / (b.along - a.along)
  return {
    track: guide.track,
    side: sideOf(a.offset),
    fromMm: a.along,
    toMm: b.along,
    lowMm: Math.min(a.station, b.station),
    highMm: Math.max(a.station, b.station),
    stationAt: (alongMm) => a.station + (alongMm - a.along) * rate,
    alongAt: (stationMm) => a.along + (stationMm - a.station) / rate,
  }
}
