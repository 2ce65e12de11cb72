import { boxGrow, boxOfPoints } from '../geom/index.ts'
import { turnoutSet } from '../network/index.ts'
import type { NetworkTrack, NetworkTurnout } from '../network/types.ts'
import { tieHold, tiesOverlap, tiesReach, tiesShared, turnoutTiesLay } from '../track/index.ts'
import type { SharedWork, WorkTrack } from '../track/index.ts'
import { keptFor } from '../plan/index.ts'
import { nearOnesCreate } from './nearOnes.ts'
import type { Boxed } from './nearOnes.ts'
import type { Cure, Finding } from './types.ts'
import { turnoutWork, workFinding } from './workFinding.ts'

type Ties = WorkTrack['ties']

/** The ties of a turnout, and the box that holds them. */
interface LaidTies extends Boxed {
  readonly turnout: NetworkTurnout
  readonly ties: Ties
}

const tiesOf = keptFor((turnout: NetworkTurnout): LaidTies | null => {
  const ties = turnoutTiesLay(turnout)
  const box = boxOfPoints(ties.map(({ centre }) => centre))
  return box && { turnout, ties, box: boxGrow(box, Math.max(0, ...ties.map(({ lengthMm }) => lengthMm)) / 2), nearMm: 0 }
})

/** A turnout, and those before it in the list whose ties its own may meet. */
export interface TurnoutTiesNear {
  readonly later: NetworkTurnout
  readonly earlier: readonly NetworkTurnout[]
}

/** A function that tells the ties of which turnouts may meet. */
export function turnoutsNearCreate(): (turnouts: readonly NetworkTurnout[]) => readonly TurnoutTiesNear[] {
  const nearOf = nearOnesCreate<LaidTies>()
  return (turnouts) => {
    const earlierOf = new Map<NetworkTurnout, NetworkTurnout[]>()
    for (const { one, others } of nearOf(turnouts.flatMap((turnout) => tiesOf(turnout) ?? []))) {
      if (others.length < 2) continue
      for (const other of others) if (other !== one) earlierOf.set(other.turnout, [...(earlierOf.get(other.turnout) ?? []), one.turnout])
    }
    return turnouts.flatMap((later) => {
      const earlier = earlierOf.get(later)
      return earlier === undefined ? [] : [{ later, earlier }]
    })
  }
}

/** The later turnout is tried at so many places each way along its track, half a tie spacing apart. */
const mostTries = 8

/**
 * Ties of two turnouts on different tracks that lie on each other and cannot be one: head blocks, and ties that lean against each other. A warning of the
 * later one: measured is how many of its ties do. The cure moves it along a straight track to the nearest place where none does.
 */
export function turnoutTiesMeet(
  later: NetworkTurnout,
  earlier: NetworkTurnout,
  host: NetworkTrack | null,
  otherHost: NetworkTrack | null,
): readonly Finding[] {
  const { turnout, result } = later
  if (!result.ok || !earlier.result.ok || turnout.track === earlier.turnout.track) return []
  const meet = meeting(later, earlier, host, otherHost)
  const [worst] = meet
  if (worst === undefined) return []
  return [
    workFinding(turnoutWork(turnout), worst.centre, {
      id: `turnout-place:${turnout.id}:${earlier.turnout.id}:ties`,
      rule: 'turnout-place',
      severity: 'warning',
      otherRecord: earlier.turnout.id,
      measured: meet.length,
      limit: 0,
      unit: 'number',
      problem: { kind: 'turnoutTiesMeet', ties: meet.length },
      cure: host === null ? null : awayCure(later, earlier, host, otherHost),
    }),
  ]
}

/** The ties of the later turnout that lie on one of the earlier, once those that can be one are one and head blocks are cut. */
function meeting(later: NetworkTurnout, earlier: NetworkTurnout, host: NetworkTrack | null, otherHost: NetworkTrack | null): Ties {
  const [mine, theirs] = [tiesOf(later), tiesOf(earlier)]
  if (mine === null || theirs === null || !mine.ties.some((tie) => theirs.ties.some((other) => tiesReach(tie, other)))) return []
  const works = [
    { ties: theirs.ties, host: hostOfTies(otherHost) },
    { ties: mine.ties, host: hostOfTies(host) },
  ]
  const [first = [], second = []] = tiesShared(works, 1)
  return second.filter((tie) => first.some((other) => tiesReach(tie, other) && tiesOverlap(tie, other)))
}

function hostOfTies(host: NetworkTrack | null): SharedWork['host'] {
  return host?.alignment.ok === true ? { path: host.alignment.path, holdMm: tieHold(host.railway) } : null
}

function awayCure(later: NetworkTurnout, earlier: NetworkTurnout, host: NetworkTrack, otherHost: NetworkTrack | null): Cure | null {
  const { turnout, result } = later
  if (!result.ok || result.geometry.request.host !== null) return null
  for (let step = 1; step <= mostTries; step++) {
    for (const way of [1, -1]) {
      const stationMm = Number((turnout.stationMm + (way * step * host.lineClass.tieSpacingMm) / 2).toFixed(1))
      const there = turnoutSet({ ...turnout, stationMm }, host)
      if (there.ok && meeting({ ...later, turnout: { ...turnout, stationMm }, result: there }, earlier, host, otherHost).length === 0) {
        return { kind: 'moveTurnout', turnout: turnout.id, stationMm }
      }
    }
  }
  return null
}
