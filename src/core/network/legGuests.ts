import type { Id, TurnoutLeg } from '../plan/types.ts'
import type { Network, NetworkTrack } from './types.ts'

/** The track that hangs on a leg of a turnout, solved or not; undefined: none does. */
export type LegGuests = (turnout: Id, leg: TurnoutLeg) => NetworkTrack | undefined

/** A function that tells which track hangs on which leg; of several that claim one leg the last. */
export function legGuests({ tracks }: Pick<Network, 'tracks'>): LegGuests {
  const guests = new Map<Id, { [L in TurnoutLeg]?: NetworkTrack }>()
  const hang = (at: NetworkTrack['track']['start'] | NetworkTrack['track']['end'], track: NetworkTrack): void => {
    if (at.kind !== 'leg') return
    const onTurnout = guests.get(at.turnout)
    if (onTurnout === undefined) guests.set(at.turnout, { [at.leg]: track })
    else onTurnout[at.leg] = track
  }
  for (const one of tracks.values()) {
    hang(one.track.start, one)
    hang(one.track.end, one)
  }
  return (turnout, leg) => guests.get(turnout)?.[leg]
}
