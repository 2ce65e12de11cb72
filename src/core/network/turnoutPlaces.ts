import type { Path, Pose } from '../geom/types.ts'
import { plainKind } from '../plan/index.ts'
import type { Facing, Hand, Id, Turnout, TurnoutBuild } from '../plan/types.ts'
import { turnoutRequest, turnoutSolve } from '../turnout/index.ts'
import type { TurnoutGeometry, TurnoutProblem } from '../turnout/types.ts'
import { turnoutPlace, turnoutStretch } from './placement.ts'
import type { Stretch } from './placement.ts'
import type { Network, NetworkTrack, NetworkTurnout } from './types.ts'

/** A stretch of a straight on which the points of a turnout may lie, and its leg as seen from them. Stations mm. */
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

/** A turnout that is built as standard practice has it. */
export const standardBuild: TurnoutBuild = {
  points: 'straight',
  pointLengthMm: 'standard',
  pointThicknessMm: 'standard',
  heelSpreadMm: 'standard',
  toeLengthMm: 'standard',
  heelLengthMm: 'standard',
}

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

/** The turnout of a place as it would be recorded, with its points at a station. */
export function turnoutAtPlace(
  { track, facing, hand, frog }: TurnoutPlace,
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

/** The straights of a track less what its turnouts take; on a loop one may lie across station zero. */
function straightsFree(network: Network, { track }: NetworkTrack, path: Path): readonly Stretch[] {
  const laps = track.end.kind === 'closed' ? [0, path.lengthMm, -path.lengthMm] : [0]
  const taken = (network.turnoutsOn.get(track.id) ?? []).flatMap(({ turnout, result }) => {
    if (!result.ok) return []
    const { fromMm, toMm } = turnoutStretch(turnout, result.geometry.extent.fromMm, result.geometry.extent.toMm)
    return laps.map((lapMm): Stretch => ({ fromMm: fromMm + lapMm, toMm: toMm + lapMm }))
  })
  const straights = path.elements
    .filter(({ k0, k1 }) => k0 === 0 && k1 === 0)
    .map(({ startStationMm, lengthMm }): Stretch => ({ fromMm: startStationMm, toMm: startStationMm + lengthMm }))
  return taken.reduce<readonly Stretch[]>((free, cut) => free.flatMap((stretch) => stretchLess(stretch, cut)), straights)
}

function stretchLess(stretch: Stretch, cut: Stretch): readonly Stretch[] {
  if (cut.toMm <= stretch.fromMm || cut.fromMm >= stretch.toMm) return [stretch]
  const before: Stretch = { fromMm: stretch.fromMm, toMm: cut.fromMm }
  const behind: Stretch = { fromMm: cut.toMm, toMm: stretch.toMm }
  return [before, behind].filter(({ fromMm, toMm }) => toMm > fromMm)
}
