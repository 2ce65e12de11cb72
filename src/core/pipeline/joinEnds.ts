import { pathStart, poseReverse } from '../geom/index.ts'
import type { Pose } from '../geom/types.ts'
import { endMet } from '../network/index.ts'
import type { Network, NetworkTrack } from '../network/types.ts'
import { legHolders } from '../plan/index.ts'
import type { Id, LineClass, TrackEndName, TurnoutLeg } from '../plan/types.ts'

/** An end that a line can be joined to: an open leg of a turnout, or the free end of a track. */
export type JoinEnd =
  | { readonly kind: 'leg'; readonly turnout: Id; readonly leg: TurnoutLeg }
  | { readonly kind: 'trackEnd'; readonly track: Id; readonly end: TrackEndName }

/** Where a line may be joined to: another end, or a turnout placed on a track, with its points at a station or (null) anywhere. */
export type JoinTo = JoinEnd | { readonly kind: 'onTrack'; readonly track: Id; readonly stationMm: number | null }

export interface PosedEnd {
  readonly end: JoinEnd
  /** Looks away from what the end belongs to. */
  readonly pose: Pose
  readonly lineClass: LineClass
}

/** All ends that nothing runs on from yet: open legs, and free ends of solved tracks that meet no other one's. */
export function openEnds(network: Network): readonly PosedEnd[] {
  const { plan } = network
  const held = legHolders(plan)
  const legs = [...network.turnouts.values()].flatMap(({ turnout, lineClass, result }): PosedEnd[] =>
    !result.ok || lineClass === null
      ? []
      : result.legs
          .filter(({ leg }) => held.get(turnout.id)?.some((holder) => holder.leg === leg) !== true)
          .map(({ leg, pose }) => ({ end: { kind: 'leg', turnout: turnout.id, leg }, pose, lineClass })),
  )
  const isMet = (own: NetworkTrack, end: TrackEndName): boolean => endMet(network.tracks.values(), own, end) !== null
  const free = [...network.tracks.values()].flatMap((own): PosedEnd[] => {
    const { track, lineClass, alignment } = own
    if (!alignment.ok || track.end.kind === 'closed') return []
    const { path } = alignment
    const of = (end: TrackEndName, pose: Pose): PosedEnd => ({ end: { kind: 'trackEnd', track: track.id, end }, pose, lineClass })
    return [
      ...(track.start.kind === 'free' && !isMet(own, 'start') ? [of('start', poseReverse(pathStart(path)))] : []),
      ...(track.end.kind === 'free' && !isMet(own, 'end') ? [of('end', path.end)] : []),
    ]
  })
  return [...legs, ...free]
}

export const isSameEnd = (a: JoinEnd, b: JoinTo): boolean =>
  a.kind === 'leg'
    ? b.kind === 'leg' && a.turnout === b.turnout && a.leg === b.leg
    : b.kind === 'trackEnd' && a.track === b.track && a.end === b.end
