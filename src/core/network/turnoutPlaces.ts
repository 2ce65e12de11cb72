import type { Path, Pose } from '../geom/types.ts'
import { plainKind } from '../plan/index.ts'
import type { Facing, Hand, Id, Turnout } from '../plan/types.ts'
import { turnoutRequest, turnoutSolve } from '../turnout/index.ts'
import type { TurnoutGeometry, TurnoutProblem } from '../turnout/types.ts'
import { crossingTaken } from './crossings.ts'
import { turnoutPlace, turnoutStretch } from './placement.ts'
import type { Stretch } from './placement.ts'
import { standardBuild } from './standardBuild.ts'
import { turnoutSet } from './turnoutSet.ts'
import type { Network, NetworkTrack, NetworkTurnout, PlacementProblem } from './types.ts'

/** A stretch on which the points of a turnout may lie, and its leg as seen from them; on a bend a single station. Stations mm. */
export interface TurnoutPlace {
  readonly track: Id
  readonly path: Path
  readonly fromMm: number
  readonly toMm: number
  readonly facing: Facing
  readonly hand: Hand
  readonly frog: number
  readonly leg: Pose
  readonly geometry: TurnoutGeometry
}

export type TurnoutPlaces =
  | { readonly ok: true; readonly places: readonly TurnoutPlace[] }
  | { readonly ok: false; readonly problem: TurnoutProblem }

/**
 * Every hand and facing of a turnout on every free straight of a track that is long enough for it; none on a track that is not solved.
 *
 * Units:   mm.
 * Outcome: the places, or why no such turnout can be built.
 * Throws:  never.
 */
export function turnoutPlacesOn(network: Network, host: NetworkTrack, frog: number): TurnoutPlaces {
  const { alignment, lineClass, railway } = host
  if (!alignment.ok) return { ok: true, places: [] }
  const { path } = alignment
  const straights = straightsFree(network, host, path)
  const places: TurnoutPlace[] = []
  for (const hand of ['left', 'right'] as const) {
    const solved = turnoutSolve(turnoutRequest(railway, lineClass, { hand, frog, build: standardBuild }))
    if (!solved.ok) return { ok: false, problem: solved.problem }
    const { extent, leg } = solved.turnout
    for (const straight of straights)
      for (const facing of ['rising', 'falling'] as const) {
        const isRising = facing === 'rising'
        const fromMm = straight.fromMm + (isRising ? -extent.fromMm : extent.toMm)
        const toMm = straight.toMm + (isRising ? -extent.toMm : extent.fromMm)
        if (fromMm <= toMm) places.push({ track: host.track.id, path, fromMm, toMm, facing, hand, frog, leg, geometry: solved.turnout })
      }
  }
  return { ok: true, places }
}

/** Why a turnout of neither hand nor facing has its points at a station; nearestMm: the nearest station of a straight where one has. */
export interface NoPlaceThere {
  readonly track: Id
  readonly stationMm: number
  readonly frog: number
  /** A turnout or a crossing that takes some of the track there, or what the track itself does not allow. */
  readonly why: { readonly kind: 'taken'; readonly turnout: Id | null } | PlacementProblem
  readonly nearestMm: number | null
}

export type TurnoutPlacesThere =
  | { readonly ok: true; readonly places: readonly TurnoutPlace[] }
  | { readonly ok: false; readonly noPlace: NoPlaceThere }

/**
 * Every hand and facing of a turnout with its points at one station of a track that is solved, on a straight or a bend.
 *
 * Units:   mm.
 * Outcome: the places; or why there is none, told of the turnout that comes nearest to having one.
 * Throws:  never.
 */
export function turnoutPlacesThere(network: Network, host: NetworkTrack, frog: number, stationMm: number): TurnoutPlacesThere {
  const { track, alignment } = host
  if (!alignment.ok) return { ok: true, places: [] }
  const { path } = alignment
  const taken = stretchesTaken(network, host, path)
  const places: TurnoutPlace[] = []
  const refused: NoPlaceThere['why'][] = []
  for (const hand of ['left', 'right'] as const)
    for (const facing of ['rising', 'falling'] as const) {
      const turnout = turnoutAtPlace({ track: track.id, facing, hand, frog }, stationMm, { id: '0', name: '' })
      const set = turnoutSet(turnout, host)
      if (!set.ok) {
        refused.push(set.problem)
        continue
      }
      const { geometry } = set
      const own = turnoutStretch(turnout, geometry.extent.fromMm, geometry.extent.toMm)
      const other = taken.find(({ fromMm, toMm }) => fromMm < own.toMm && toMm > own.fromMm)
      if (other !== undefined) refused.push({ kind: 'taken', turnout: other.turnout })
      else places.push({ track: track.id, path, fromMm: stationMm, toMm: stationMm, facing, hand, frog, leg: geometry.leg, geometry })
    }
  if (places.length > 0) return { ok: true, places }
  const why = refused.find(({ kind }) => kind === 'taken') ?? refused.find(({ kind }) => kind === 'runsOff') ?? refused[0]
  const nearestMm = nearestPlace(turnoutPlacesOn(network, host, frog), stationMm)
  return { ok: false, noPlace: { track: track.id, stationMm, frog, why: why ?? { kind: 'hostUnsolved' }, nearestMm } }
}

function nearestPlace(places: TurnoutPlaces, stationMm: number): number | null {
  const stations = places.ok ? places.places.map(({ fromMm, toMm }) => Math.min(Math.max(stationMm, fromMm), toMm)) : []
  const [first, ...others] = stations
  if (first === undefined) return null
  return others.reduce((best, one) => (Math.abs(one - stationMm) < Math.abs(best - stationMm) ? one : best), first)
}

/** The turnout of a place as it would be recorded, with its points at a station. */
export function turnoutAtPlace(
  { track, facing, hand, frog }: Pick<TurnoutPlace, 'track' | 'facing' | 'hand' | 'frog'>,
  stationMm: number,
  { id, name }: { readonly id: Id; readonly name: string },
): Turnout {
  return { id, name, kind: plainKind, track, stationMm, facing, hand, frog, build: standardBuild }
}

/** The same as it would stand in the network. */
export function turnoutSetAtPlace(place: TurnoutPlace, host: NetworkTrack, stationMm: number): NetworkTurnout {
  // No id of a plan begins with a digit.
  const turnout = turnoutAtPlace(place, stationMm, { id: '0', name: '' })
  return { turnout, lineClass: host.lineClass, result: turnoutPlace(turnout, place.geometry, host) }
}

/** The straights of a track less what its turnouts and crossings take; on a loop one may lie across station zero. */
function straightsFree(network: Network, host: NetworkTrack, path: Path): readonly Stretch[] {
  const straights = path.elements
    .filter(({ k0, k1 }) => k0 === 0 && k1 === 0)
    .map(({ startStationMm, lengthMm }): Stretch => ({ fromMm: startStationMm, toMm: startStationMm + lengthMm }))
  return stretchesTaken(network, host, path).reduce<readonly Stretch[]>(
    (free, cut) => free.flatMap((stretch) => stretchLess(stretch, cut)),
    straights,
  )
}

/** What the turnouts and crossings of a track take of it; on a loop also a lap before and behind. */
function stretchesTaken(network: Network, { track }: NetworkTrack, path: Path): readonly (Stretch & { readonly turnout: Id | null })[] {
  const laps = track.end.kind === 'closed' ? [0, path.lengthMm, -path.lengthMm] : [0]
  const turnouts = (network.turnoutsOn.get(track.id) ?? []).flatMap(({ turnout, result }) =>
    result.ok ? [{ ...turnoutStretch(turnout, result.geometry.extent.fromMm, result.geometry.extent.toMm), turnout: turnout.id }] : [],
  )
  const crossings = (network.crossingsOn.get(track.id) ?? []).flatMap((crossing) => {
    const stretch = crossingTaken(crossing, track.id)
    return stretch === null ? [] : [{ ...stretch, turnout: null }]
  })
  return [...turnouts, ...crossings].flatMap(({ fromMm, toMm, turnout }) =>
    laps.map((lapMm) => ({ fromMm: fromMm + lapMm, toMm: toMm + lapMm, turnout })),
  )
}

function stretchLess(stretch: Stretch, cut: Stretch): readonly Stretch[] {
  if (cut.toMm <= stretch.fromMm || cut.fromMm >= stretch.toMm) return [stretch]
  const before: Stretch = { fromMm: stretch.fromMm, toMm: cut.fromMm }
  const behind: Stretch = { fromMm: cut.toMm, toMm: stretch.toMm }
  return [before, behind].filter(({ fromMm, toMm }) => toMm > fromMm)
}
