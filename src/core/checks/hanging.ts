import { legGuests } from '../network/index.ts'
import type { LegGuests } from '../network/index.ts'
import type { Network, NetworkTrack } from '../network/types.ts'
import { placesOtherwise } from '../plan/index.ts'

/** What hangs on legs of turnouts. */
export interface Hanging {
  /** Places of tracks with an end on a leg. */
  readonly places: ReadonlySet<number>
  readonly guestOf: LegGuests
}

const hangs = (track: NetworkTrack | undefined): boolean => track?.track.start.kind === 'leg' || track?.track.end.kind === 'leg'

/** A function that tells what hangs on legs; nothing is looked up anew where no track that hangs, or did, is another one. */
export function hangingCreate(): (network: Network, tracks: readonly NetworkTrack[]) => Hanging {
  let last: (Hanging & { readonly tracks: readonly NetworkTrack[] }) | null = null
  return (network, tracks) => {
    const before = last
    const changed = before === null ? null : placesOtherwise(before.tracks, tracks)
    const isSame = before !== null && changed?.every((place) => !before.places.has(place) && !hangs(tracks[place])) === true
    const { places, guestOf } = isSame ? before : { places: hangingPlaces(tracks), guestOf: legGuests(network) }
    last = { tracks, places, guestOf }
    return last
  }
}

const hangingPlaces = (tracks: readonly NetworkTrack[]): ReadonlySet<number> =>
  new Set(tracks.flatMap((track, place) => (hangs(track) ? place : [])))
