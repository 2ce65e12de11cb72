import { boxesOverlap, boxGrow, boxOfPoints } from '../geom/index.ts'
import type { Box } from '../geom/types.ts'
import { turnoutSet } from '../network/index.ts'
import type { NetworkTrack, NetworkTurnout } from '../network/types.ts'
import { tieHold, tiesOverlap, tiesReach, tiesShared, turnoutTiesLay } from '../track/index.ts'
import type { SharedWork, WorkTrack } from '../track/index.ts'
import { keptFor } from '../plan/index.ts'
import type { Cure, Finding } from './types.ts'
import { turnoutWork, workFinding } from './workFinding.ts'

type Ties = WorkTrack['ties']

const tiesOf = keptFor((one: NetworkTurnout): { readonly ties: Ties; readonly box: Box | null } => {
  const ties = turnoutTiesLay(one)
  const box = boxOfPoints(ties.map(({ centre }) => centre))
  return { ties, box: box && boxGrow(box, Math.max(0, ...ties.map(({ lengthMm }) => lengthMm)) / 2) }
})

/** Pairs of turnouts whose ties may meet: the later and the earlier one of the list. */
export function turnoutsNear(turnouts: readonly NetworkTurnout[]): readonly (readonly [NetworkTurnout, NetworkTurnout])[] {
  const boxed = turnouts.flatMap((one) => {
    const { box } = tiesOf(one)
    return box === null ? [] : [{ one, box }]
  })
  return boxed.flatMap(({ one, box }, i) => {
    const near: (readonly [NetworkTurnout, NetworkTurnout])[] = []
    for (let j = 0; j < i; j++) {
      const earlier = boxed[j]
      if (earlier !== undefined && boxesOverlap(box, earlier.box)) near.push([one, earlier.one])
    }
    return near
  })
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
  if (!mine.ties.some((tie) => theirs.ties.some((other) => tiesReach(tie, other)))) return []
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
