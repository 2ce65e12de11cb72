import { mapKept } from '../network/index.ts'
import type { Network, NetworkCrossing, NetworkTurnout } from '../network/types.ts'
import type { Id, TrackEnd, TrackStart } from '../plan/types.ts'
import { giveWayCreate, shareCreate } from './giveWays.ts'
import type { PlainOf } from './giveWays.ts'
import { goneForget } from './goneForget.ts'
import { LateMap } from './lateMap.ts'
import { plainTrackLay } from './plain.ts'
import type { LegOf, PlainRequest } from './plain.ts'
import { crossingTrackLay, turnoutTrackLay } from './turnoutTrack.ts'
import type { CrossingTrack, PlainTrack, Trackwork, TurnoutTrack } from './types.ts'

const noTurnouts: readonly NetworkTurnout[] = []
const noCrossings: readonly NetworkCrossing[] = []

/**
 * A function from network to rails and ties that lays again only what changed: it compares the network's own objects,
 * which stay the same as long as nothing they were made from does. Plain tracks are laid when they are first asked for: of a large
 * railway seen from afar, none is.
 *
 * Outcome:  every track of the network, those without a solved line empty; every turnout that could be set, every crossing that can be built.
 * Throws:   never.
 */
export function trackworkCreateDeriver(): (network: Network) => Trackwork {
  const plain = new Map<Id, { readonly request: PlainRequest; readonly value: PlainTrack }>()
  let laid: ReadonlyMap<Id, { readonly turnout: NetworkTurnout; readonly value: TurnoutTrack | null }> = new Map()
  let crossed: ReadonlyMap<Id, { readonly crossing: NetworkCrossing; readonly value: CrossingTrack | null }> = new Map()
  const worksShared = shareCreate()
  const plainGiven = giveWayCreate()
  let last: { readonly network: Network; readonly trackwork: Trackwork } | null = null

  return (network) => {
    if (last?.network === network) return last.trackwork
    const legOf = (end: TrackStart | TrackEnd): LegOf | null => {
      const turnout = end.kind === 'leg' ? network.turnouts.get(end.turnout) : undefined
      return end.kind === 'leg' && turnout ? { turnout, leg: end.leg } : null
    }
    goneForget(plain, network)
    const plainOf: PlainOf = (id) => {
      const track = network.tracks.get(id)
      if (track === undefined) return undefined
      const request: PlainRequest = {
        track,
        turnouts: network.turnoutsOn.get(id) ?? noTurnouts,
        crossings: network.crossingsOn.get(id) ?? noCrossings,
        startLeg: legOf(track.track.start),
        endLeg: legOf(track.track.end),
      }
      const before = plain.get(id)
      if (before && requestEquals(before.request, request)) return before
      const entry = { request, value: plainTrackLay(request) }
      plain.set(id, entry)
      return entry
    }
    const nextLaid = new Map<Id, { readonly turnout: NetworkTurnout; readonly value: TurnoutTrack | null }>()
    for (const [id, turnout] of network.turnouts) {
      const before = laid.get(id)
      nextLaid.set(id, before?.turnout === turnout ? before : { turnout, value: turnoutTrackLay(turnout) })
    }
    const nextCrossed = new Map<Id, { readonly crossing: NetworkCrossing; readonly value: CrossingTrack | null }>()
    for (const [id, crossing] of network.crossings) {
      const before = crossed.get(id)
      nextCrossed.set(id, before?.crossing === crossing ? before : { crossing, value: crossingTrackLay(crossing) })
    }
    crossed = nextCrossed
    laid = nextLaid

    const worksLaid = { turnouts: new Map<Id, TurnoutTrack>(), crossings: new Map<Id, CrossingTrack>() }
    for (const [id, { value }] of laid) if (value) worksLaid.turnouts.set(id, value)
    for (const [id, { value }] of crossed) if (value) worksLaid.crossings.set(id, value)
    const shared = worksShared(network, worksLaid)
    const turnouts = mapKept(last?.trackwork.turnouts, shared.turnouts)
    const crossings = mapKept(last?.trackwork.crossings, shared.crossings)
    const tracks =
      last !== null &&
      isSameForPlain(last.network, network) &&
      last.trackwork.turnouts === turnouts &&
      last.trackwork.crossings === crossings
        ? last.trackwork.tracks
        : new LateMap(network.tracks, plainGiven(network, plainOf, turnouts, crossings))
    const trackwork: Trackwork = { tracks, turnouts, crossings }
    last = { network, trackwork }
    return trackwork
  }
}

/** Nothing changed that plain tracks are laid from, beside the ties of special work. */
function isSameForPlain(before: Network, now: Network): boolean {
  return (
    before.tracks === now.tracks &&
    before.turnoutsOn === now.turnoutsOn &&
    before.crossingsOn === now.crossingsOn &&
    before.plan.makers === now.plan.makers
  )
}

function requestEquals(a: PlainRequest, b: PlainRequest): boolean {
  const legEquals = (one: LegOf | null, other: LegOf | null): boolean => one?.turnout === other?.turnout && one?.leg === other?.leg
  return (
    a.track === b.track &&
    a.turnouts === b.turnouts &&
    a.crossings === b.crossings &&
    legEquals(a.startLeg, b.startLeg) &&
    legEquals(a.endLeg, b.endLeg)
  )
}
