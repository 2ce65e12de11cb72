import type { Alignment } from '../core/alignment/types.ts'
import type { NetworkTrack, NetworkTurnout } from '../core/network/types.ts'
import type { Derived } from '../core/pipeline/types.ts'
import { RowMap } from '../core/plan/index.ts'
import type { Id } from '../core/plan/types.ts'
import type { PlainTrack, TurnoutTrack } from '../core/track/types.ts'

/** A track as it was when it last had a line, with what was laid on it. */
interface LastTrack {
  readonly on: NetworkTrack
  readonly alignment: Extract<Alignment, { readonly ok: true }>
  readonly plain: PlainTrack | null
}

/** A turnout as it last stood on a track that has no line now. */
interface LastTurnout {
  readonly on: NetworkTurnout
  readonly laid: TurnoutTrack
}

/** What was last known of tracks that have no line now, and of the turnouts on them; of all others there is nothing to remember. */
export interface LastGood {
  readonly tracks: ReadonlyMap<Id, LastTrack>
  readonly turnouts: ReadonlyMap<Id, LastTurnout>
}

export const lastGoodNone: LastGood = { tracks: new Map(), turnouts: new Map() }

/**
 * What is to be remembered after a change of the plan. A plan that was opened with a track that has no line has nothing to remember of it;
 * the memory is no part of the plan and goes with the page.
 *
 * Outcome:  the same object while nothing in it changes, which is nearly always.
 */
export function lastGoodAfter(before: LastGood, was: Derived, is: Derived): LastGood {
  const tracks = keptOf(before.tracks, was.network.tracks, is.network.tracks, isUnsolved, (on): LastTrack | null =>
    on.alignment.ok ? { on, alignment: on.alignment, plain: was.trackwork.tracks.get(on.track.id) ?? null } : null,
  )
  const turnouts = keptOf(before.turnouts, was.network.turnouts, is.network.turnouts, hasNoHost, (on): LastTurnout | null => {
    const laid = on.result.ok ? was.trackwork.turnouts.get(on.turnout.id) : undefined
    return laid === undefined ? null : { on, laid }
  })
  return tracks === before.tracks && turnouts === before.turnouts ? before : { tracks, turnouts }
}

const isUnsolved = ({ alignment }: NetworkTrack): boolean => !alignment.ok
const hasNoHost = ({ result }: NetworkTurnout): boolean => !result.ok && result.problem.kind === 'hostUnsolved'

/** Of all that is lost now: what was remembered of it, else what it was just before. */
function keptOf<Now, Last>(
  before: ReadonlyMap<Id, Last>,
  was: ReadonlyMap<Id, Now>,
  is: ReadonlyMap<Id, Now>,
  isLost: (now: Now) => boolean,
  lastOf: (was: Now) => Last | null,
): ReadonlyMap<Id, Last> {
  if (was === is) return before
  let kept: Map<Id, Last> | null = null
  // In every step of a drag among thousands: those that are others than before.
  const changed = RowMap.changed(was, is)?.map(({ id }) => id)
  for (const id of changed ?? new Set([...is.keys(), ...before.keys()])) {
    const [old, now] = [was.get(id), is.get(id)]
    const isKept = now !== undefined && isLost(now)
    if (isKept === before.has(id)) continue
    const last = isKept && old !== undefined ? lastOf(old) : null
    if (isKept && last === null) continue
    kept ??= new Map(before)
    if (last === null) kept.delete(id)
    else kept.set(id, last)
  }
  return kept ?? before
}
