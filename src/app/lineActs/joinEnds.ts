import { pathStart, poseReverse } from '../../core/geom/index.ts'
import type { Pose } from '../../core/geom/types.ts'
import type { Network } from '../../core/network/types.ts'
import { legHolders } from '../../core/plan/index.ts'
import type { Id, LineClass, Plan } from '../../core/plan/types.ts'
import type { Selection } from '../../store/types.ts'
import type { JoinEnd } from '../desk.ts'
import { recordName } from '../../words/names.ts'

/** Where a line may be joined to: another end, or anywhere on a track, at a turnout placed there. */
export type JoinTo = JoinEnd | { readonly kind: 'onTrack'; readonly track: Id }

export interface PosedEnd {
  readonly end: JoinEnd
  /** Looks away from what the end belongs to. */
  readonly pose: Pose
  readonly lineClass: LineClass
}

/** All ends that nothing runs on from yet: open legs, and free ends of solved tracks. */
export function openEnds(network: Network): readonly PosedEnd[] {
  const { plan } = network
  const held = legHolders(plan)
  const legs = [...network.turnouts.values()].flatMap(({ turnout, lineClass, result }): PosedEnd[] =>
    !result.ok || lineClass === null || held.has(turnout.id)
      ? []
      : [{ end: { kind: 'leg', turnout: turnout.id }, pose: result.leg, lineClass }],
  )
  const free = [...network.tracks.values()].flatMap(({ track, lineClass, alignment }): PosedEnd[] => {
    if (!alignment.ok || track.end.kind === 'closed') return []
    const { path } = alignment
    const of = (end: 'start' | 'end', pose: Pose): PosedEnd => ({ end: { kind: 'trackEnd', track: track.id, end }, pose, lineClass })
    return [
      ...(track.start.kind === 'free' ? [of('start', poseReverse(pathStart(path)))] : []),
      ...(track.end.kind === 'free' ? [of('end', path.end)] : []),
    ]
  })
  return [...legs, ...free]
}

export const joinKey = (to: JoinTo): string =>
  to.kind === 'leg' ? `leg ${to.turnout}` : to.kind === 'trackEnd' ? `${to.end} ${to.track}` : `on ${to.track}`

export function joinToText(to: JoinTo, plan: Plan): string {
  switch (to.kind) {
    case 'leg':
      return `leg of ${recordName(plan, 'turnouts', to.turnout)}`
    case 'trackEnd':
      return `${to.end} of ${recordName(plan, 'tracks', to.track)}`
    case 'onTrack':
      return `a turnout on ${recordName(plan, 'tracks', to.track)}`
  }
}

/** Nearer to a free end than this, a track pointed at means its end, mm. */
const endReachMm = 150

/** What a thing pointed at means as the other end of a join; null: nothing. stationMm: where on the track, if known. */
export function joinToSelected(selection: Selection, network: Network, stationMm: number | null): JoinTo | null {
  if (selection.kind === 'trackEnd') return { kind: 'trackEnd', track: selection.track, end: selection.end }
  if (selection.kind !== 'record') return null
  if (selection.table === 'turnouts') return { kind: 'leg', turnout: selection.id }
  if (selection.table !== 'tracks') return null
  const { id: track } = selection
  const alignment = network.tracks.get(track)?.alignment
  if (alignment?.ok === true && stationMm !== null) {
    if (stationMm < endReachMm) return { kind: 'trackEnd', track, end: 'start' }
    if (alignment.path.lengthMm - stationMm < endReachMm) return { kind: 'trackEnd', track, end: 'end' }
  }
  return { kind: 'onTrack', track }
}
