import type { Id, TurnoutLeg } from '../plan/types.ts'
import type { Network, NetworkTrack } from './types.ts'

/** The track that hangs on a leg of a turnout, solved or not; undefined: none does. */
export type LegGuests = (turnout: Id, leg: TurnoutLeg) => NetworkTrack | undefined

/** A function that tells which track hangs on which leg; of several that claim one leg the last. */
export function legGuests({ tracks }: Pick<Network, 'tracks'>): LegGuests {
  const guests = new Map<string, NetworkTrack>()
  for (const one of tracks.values()) {
    const { start, end } = one.track
    for (const at of [start, end]) if (at.kind === 'leg') guests.set(`${at.turnout}:${at.leg}`, one)
  }
  return (turnout, leg) => guests.get(`${turnout}:${leg}`)
}
