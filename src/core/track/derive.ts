import { mapKept } from '../network/index.ts'
import type { Network, NetworkCrossing, NetworkTurnout } from '../network/types.ts'
import type { Id, TrackEnd, TrackStart } from '../plan/types.ts'
import { giveWayCreate, shareCreate } from './giveWays.ts'
import { plainTrackLay } from './plain.ts'
import type { LegOf, PlainRequest } from './plain.ts'
import { crossingTrackLay, turnoutTrackLay } from './turnoutTrack.ts'
import type { CrossingTrack, PlainTrack, Trackwork, TurnoutTrack } from './types.ts'

const noTurnouts: readonly NetworkTurnout[] = []
const noCrossings: readonly NetworkCrossing[] = []

/**
 * A function from network to rails and ties that lays again only what changed: it compares the network's own objects,
 * which stay the same as long as nothing they were made from does.
 *
 * Outcome:  every track of the network, those without a solved line empty; every turnout that could be set, every crossing that can be built.
 * Throws:   never.
 */
export function trackworkCreateDeriver(): (network: Network) => Trackwork {
  let plain: ReadonlyMap<Id, { readonly request: PlainRequest; readonly value: PlainTrack }> = new Map()
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
    const nextPlain = new Map<Id, { readonly request: PlainRequest; readonly value: PlainTrack }>()
    for (const [id, track] of network.tracks) {
      const request: PlainRequest = {
        track,
        turnouts: network.turnoutsOn.get(id) ?? noTurnouts,
        crossings: network.crossingsOn.get(id) ?? noCrossings,
        startLeg: legOf(track.track.start),
        endLeg: legOf(track.track.end),
      }
      const before = plain.get(id)
      nextPlain.set(id, before && requestEquals(before.request, request) ? before : { request, value: plainTrackLay(request) })
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
    plain = nextPlain
    laid = nextLaid

    const worksLaid = { turnouts: new Map<Id, TurnoutTrack>(), crossings: new Map<Id, CrossingTrack>() }
    for (const [id, { value }] of laid) if (value) worksLaid.turnouts.set(id, value)
    for (const [id, { value }] of crossed) if (value) worksLaid.crossings.set(id, value)
    const { turnouts, crossings } = worksShared(network, worksLaid)
    const tracks = plainGiven(network, plain, turnouts, crossings)
    const trackwork: Trackwork = {
      tracks: mapKept(last?.trackwork.tracks, tracks),
      turnouts: mapKept(last?.trackwork.turnouts, turnouts),
      crossings: mapKept(last?.trackwork.crossings, crossings),
    }
    last = { network, trackwork }
    return trackwork
  }
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
