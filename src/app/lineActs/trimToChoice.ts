import { useMemo, useState } from 'react'
import { trackMeetings } from '../../core/alignment/index.ts'
import type { TrackInPlan, TrackMeeting, TrackMeetings } from '../../core/alignment/index.ts'
import type { Network } from '../../core/network/types.ts'
import type { Id, TrackEndName } from '../../core/plan/types.ts'
import { trackOn } from './trackOn.ts'

/** What an end of a track meets on one other track. */
export interface Found {
  readonly other: TrackInPlan
  readonly found: TrackMeetings
}

/** Which end is brought where: what may be chosen, what is, and how to choose. */
export interface TrimToChoice {
  readonly end: TrackEndName
  /** Nearest to be reached first, those that are not met last. */
  readonly others: readonly Found[]
  readonly chosen: Found | null
  readonly place: number
  readonly meeting: TrackMeeting | null
  readonly choose: (change: { readonly end?: TrackEndName; readonly other?: Id; readonly place?: number }) => void
}

/** Begins with what takes the least: the end and the track that are nearest to each other along the line. */
export function useTrimToChoice(network: Network, on: TrackInPlan | null): TrimToChoice {
  const [asked, setAsked] = useState<{ readonly end?: TrackEndName; readonly other?: Id; readonly place?: number }>({})
  const byEnd = useMemo(() => ({ start: foundAt(network, on, 'start'), end: foundAt(network, on, 'end') }), [network, on])
  const end = asked.end ?? (nearestMm(byEnd.start[0]) < nearestMm(byEnd.end[0]) ? 'start' : 'end')
  const others = byEnd[end]
  const chosen = others.find(({ other }) => other.track.id === asked.other) ?? others[0] ?? null
  const meetings = chosen?.found.ok === true ? chosen.found.meetings : []
  const place = Math.min(asked.place ?? 0, Math.max(0, meetings.length - 1))
  return {
    end,
    others,
    chosen,
    place,
    meeting: meetings[place] ?? null,
    // Another end or track begins at its nearest place again.
    choose: (change) => setAsked((before) => ({ ...before, place: 0, ...change })),
  }
}

const nearestMm = (one: Found | undefined): number =>
  one?.found.ok === true ? Math.abs(one.found.meetings[0]?.byMm ?? Infinity) : Infinity

function foundAt(network: Network, on: TrackInPlan | null, end: TrackEndName): readonly Found[] {
  if (on === null || on.track.end.kind === 'closed') return []
  return [...network.tracks.keys()]
    .flatMap((id): Found[] => {
      const other = id === on.track.id ? null : trackOn(network, id)
      return other === null ? [] : [{ other, found: trackMeetings(on, end, other) }]
    })
    .toSorted((a, b) => Number(b.found.ok) - Number(a.found.ok) || (a.found.ok && b.found.ok ? nearestMm(a) - nearestMm(b) : 0))
}
