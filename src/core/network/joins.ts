import { angleWrap, pathsJoined, poseToLocal } from '../geom/index.ts'
import type { Path, Pose } from '../geom/types.ts'
import type { Id, Railway, Track } from '../plan/types.ts'
import type { CrossingGeometry, CrossingProblem } from '../turnout/crossing/types.ts'
import { canJoin, legWay, worksJoin } from '../turnout/index.ts'
import type { JoinArm, JoinEnds } from '../turnout/index.ts'
import type { SolvedAlignment } from './localLine.ts'
import type { NetworkCrossing, NetworkTrack, NetworkTurnout } from './types.ts'

/** What a crossing takes beyond the end of a track that is no more than this, mm, is rounding. */
const reachSlackMm = 1e-6

/** A track with the ways through the turnouts on whose legs it hangs; `beforeMm`: how much of it lies before the track's station zero. */
interface LineThrough {
  readonly line: SolvedAlignment
  readonly beforeMm: number
}

interface Leg {
  readonly turnout: NetworkTurnout
  readonly leg: Extract<Track['start'], { readonly kind: 'leg' }>['leg']
}

function legAt(end: Track['start'] | Track['end'], turnouts: ReadonlyMap<Id, NetworkTurnout>): Leg | null {
  const turnout = end.kind === 'leg' ? turnouts.get(end.turnout) : undefined
  return end.kind === 'leg' && turnout?.result.ok === true ? { turnout, leg: end.leg } : null
}

/** The line that a crossing of a track can reach along: where the track hangs on a leg it goes on to the turnout's points. Null: it hangs on none. */
export function lineThroughLegs(
  { start, end }: Track,
  alignment: SolvedAlignment,
  turnouts: ReadonlyMap<Id, NetworkTurnout>,
  railway: Railway,
): LineThrough | null {
  const wayOf = (at: Leg | null, isEnd: boolean): Path | null => {
    if (at?.turnout.result.ok !== true) return null
    const { geometry } = at.turnout.result
    return canJoin(railway, geometry) ? legWay({ geometry, leg: at.leg }, isEnd) : null
  }
  const [before, behind] = [wayOf(legAt(start, turnouts), false), wayOf(legAt(end, turnouts), true)]
  if (before === null && behind === null) return null
  const path = pathsJoined([...(before ? [before] : []), alignment.path, ...(behind ? [behind] : [])])
  return { line: { ...alignment, path, isClosed: false }, beforeMm: before?.lengthMm ?? 0 }
}

/** What was built in one, and from what. */
interface JoinEntry {
  readonly crossing: NetworkCrossing
  readonly arms: readonly (NetworkTurnout | null)[]
  readonly joined: { readonly crossing: NetworkCrossing; readonly turnouts: readonly NetworkTurnout[] }
}

interface Works {
  readonly turnouts: ReadonlyMap<Id, NetworkTurnout>
  readonly crossings: ReadonlyMap<string, NetworkCrossing>
}

export type JoinsOf = (
  tracks: ReadonlyMap<Id, NetworkTrack>,
  turnouts: ReadonlyMap<Id, NetworkTurnout>,
  crossings: ReadonlyMap<string, NetworkCrossing>,
) => Works

/**
 * A function that builds every crossing in one with the turnouts into which it reaches, as it is in a scissors, and remembers what it built. A
 * turnout is built in one with one crossing; a second one that reaches into it has no track there.
 */
export function joinsCreate(): JoinsOf {
  let entries: ReadonlyMap<string, JoinEntry> = new Map()
  return (tracks, turnouts, crossings) => {
    const next = new Map<string, JoinEntry>()
    const nextTurnouts = new Map(turnouts)
    const nextCrossings = new Map(crossings)
    const taken = new Set<Id>()
    for (const [id, crossing] of crossings) {
      if (!crossing.result.ok) continue
      const reached = reachedLegs(crossing, crossing.result.crossing, tracks, turnouts)
      const arms = reached.map((leg) => leg?.turnout ?? null)
      if (arms.every((arm) => arm === null)) continue
      const before = entries.get(id)
      const second = arms.find((arm) => arm !== null && taken.has(arm.turnout.id))
      const isKept = before?.crossing === crossing && before.arms.every((arm, i) => arm === arms[i])
      if (second) {
        nextCrossings.set(
          id,
          failed(crossing, { kind: 'trackTooShort', track: 'first', shortByMm: second.result.ok ? overlapMm(crossing) : 0 }),
        )
        continue
      }
      const entry = isKept ? before : { crossing, arms, joined: joinedOf(crossing, crossing.result.crossing, reached) }
      next.set(id, entry)
      nextCrossings.set(id, entry.joined.crossing)
      for (const turnout of entry.joined.turnouts) {
        nextTurnouts.set(turnout.turnout.id, turnout)
        taken.add(turnout.turnout.id)
      }
    }
    entries = next
    return { turnouts: nextTurnouts, crossings: nextCrossings }
  }
}

function failed(crossing: NetworkCrossing, problem: CrossingProblem): NetworkCrossing {
  return { ...crossing, result: { ok: false, problem } }
}

function overlapMm({ result }: NetworkCrossing): number {
  return result.ok ? result.crossing.extents.first.toMm : 0
}

/** The legs beyond which a crossing takes rail: at the start and the end of the first track, then of the other, as the crossing runs through them. */
function reachedLegs(
  crossing: NetworkCrossing,
  { extents }: CrossingGeometry,
  tracks: ReadonlyMap<Id, NetworkTrack>,
  turnouts: ReadonlyMap<Id, NetworkTurnout>,
): readonly (Leg | null)[] {
  const endsOf = (
    id: Id,
    stationMm: number,
    isReversed: boolean,
    extent: { readonly fromMm: number; readonly toMm: number },
  ): (Leg | null)[] => {
    const track = tracks.get(id)
    if (!track?.alignment.ok || track.alignment.isClosed) return [null, null]
    const { start, end } = track.track
    const beyondMm = track.alignment.path.lengthMm - stationMm
    const [behind, ahead] = isReversed ? [beyondMm, stationMm] : [stationMm, beyondMm]
    return [
      -extent.fromMm > behind + reachSlackMm ? legAt(isReversed ? end : start, turnouts) : null,
      extent.toMm > ahead + reachSlackMm ? legAt(isReversed ? start : end, turnouts) : null,
    ]
  }
  return [
    ...endsOf(crossing.track, crossing.stationMm, false, extents.first),
    ...endsOf(crossing.other, crossing.otherStationMm, crossing.isOtherReversed, extents.second),
  ]
}

function joinedOf(crossing: NetworkCrossing, geometry: CrossingGeometry, reached: readonly (Leg | null)[]): JoinEntry['joined'] {
  const arms = reached.map((leg) => leg && armOf(leg, crossing.pose))
  const ends = (i: number): JoinEnds => ({ start: arms[i] ?? null, end: arms[i + 1] ?? null })
  const result = worksJoin({ crossing: geometry, first: ends(0), second: ends(2) })
  if (!result.ok) return { crossing: failed(crossing, result.problem), turnouts: [] }
  const turnouts = reached.flatMap((leg, i): readonly NetworkTurnout[] => {
    const own = result.turnouts[i]
    return leg?.turnout.result.ok === true && own ? [{ ...leg.turnout, result: { ...leg.turnout.result, geometry: own } }] : []
  })
  return { crossing: { ...crossing, result: { ok: true, crossing: result.crossing } }, turnouts }
}

function armOf({ turnout, leg }: Leg, frame: Pose): JoinArm | null {
  if (!turnout.result.ok) return null
  const { pose, geometry } = turnout.result
  return { geometry, leg, pose: { ...poseToLocal(frame, pose), headingRad: angleWrap(pose.headingRad - frame.headingRad) } }
}
