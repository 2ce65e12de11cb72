import { crossingTaken } from './crossings.ts'
import { turnoutTaken } from './placement.ts'
import type { Stretch } from './placement.ts'
import type { Network, NetworkTurnout } from './types.ts'

/**
 * Stations between which the points of a placed turnout may stand as its track is now: to the track's ends, and to what its neighbours
 * take. On bends the turnout itself changes a little as it moves, so that the ends there are near ones.
 *
 * Outcome: null when it is not placed, or there is no end and no neighbour.
 */
export function turnoutRoom(network: Network, { turnout, result }: NetworkTurnout): Stretch | null {
  const host = network.tracks.get(turnout.track)
  if (!result.ok || host?.alignment.ok !== true || turnout.kind.kind === 'wye') return null
  const { path, isClosed } = host.alignment
  const own = turnoutTaken(turnout, result.geometry, null)
  const laps = isClosed ? [-path.lengthMm, 0, path.lengthMm] : [0]
  const taken = [
    ...(network.turnoutsOn.get(turnout.track) ?? []).flatMap((one) =>
      one.turnout.id !== turnout.id && one.result.ok
        ? [{ theirs: turnoutTaken(one.turnout, one.result.geometry, turnout), mine: turnoutTaken(turnout, result.geometry, one.turnout) }]
        : [],
    ),
    ...(network.crossingsOn.get(turnout.track) ?? []).flatMap((crossing) => {
      const theirs = crossingTaken(crossing, turnout.track)
      return theirs === null ? [] : [{ theirs, mine: own }]
    }),
  ].flatMap(({ theirs, mine }) => laps.map((lapMm) => ({ fromMm: theirs.fromMm + lapMm, toMm: theirs.toMm + lapMm, mine })))
  // Told as if by what it takes itself, so that every neighbour counts with its own share.
  const before = taken.filter(({ toMm, mine }) => toMm <= mine.fromMm).map(({ toMm, mine }) => toMm + own.fromMm - mine.fromMm)
  const behind = taken.filter(({ fromMm, mine }) => fromMm >= mine.toMm).map(({ fromMm, mine }) => fromMm + own.toMm - mine.toMm)
  if (isClosed && before.length === 0 && behind.length === 0) return null
  const least = Math.max(isClosed ? -Infinity : 0, ...before)
  const most = Math.min(isClosed ? Infinity : path.lengthMm, ...behind)
  const { stationMm } = turnout
  return { fromMm: least + stationMm - own.fromMm, toMm: most - (own.toMm - stationMm) }
}
