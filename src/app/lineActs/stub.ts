import type { Network, NetworkTrack } from '../../core/network/types.ts'
import { makerOf, recordFind } from '../../core/plan/index.ts'
import type { Id, Track, Turnout } from '../../core/plan/types.ts'

/** A track that begins at a turnout's leg and goes nowhere yet, and what it leaves. */
export interface Stub {
  readonly track: Track
  readonly turnout: Turnout
  readonly host: NetworkTrack
}

/** The track as a stub beside the host that it leaves; null: it goes on somewhere, is made by a maker, or leaves no plain turnout. */
export function stubOf(network: Network, id: Id): Stub | null {
  const { plan } = network
  const track = recordFind(plan, 'tracks', id)
  if (track === null || !isStub(track) || track.start.kind !== 'leg') return null
  const turnout = recordFind(plan, 'turnouts', track.start.turnout)
  const host = turnout === null ? undefined : network.tracks.get(turnout.track)
  if (turnout === null || host === undefined || turnout.kind.kind !== 'plain' || !host.alignment.ok) return null
  const isMade = makerOf(plan, 'tracks', id) !== null || makerOf(plan, 'turnouts', turnout.id) !== null
  return isMade ? null : { track, turnout, host }
}

/** Whether a track begins at a leg and ends straight ahead of it. */
export function isStub({ start, corners, end }: Track): boolean {
  return start.kind === 'leg' && end.kind === 'free' && corners.length === 0
}
