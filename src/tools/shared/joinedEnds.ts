import type { PlanCommand } from '../../core/edit/types.ts'
import { pointDistance } from '../../core/geom/index.ts'
import type { Point, Pose } from '../../core/geom/types.ts'
import { endMet, endsHoldMm } from '../../core/network/index.ts'
import type { EndMet } from '../../core/network/index.ts'
import type { Network, NetworkTrack } from '../../core/network/types.ts'
import type { Id, TrackEndName } from '../../core/plan/types.ts'
import { trackHandles } from './handles.ts'

/** An end that meets the end of another track, and what both their last sides run to. */
export interface Joint {
  readonly track: Id
  readonly end: TrackEndName
  readonly met: EndMet
  readonly at: Point
  readonly own: Side
  readonly other: Side
}

/** The last side of a track as seen from its end. */
interface Side {
  /** The nearest PI, or the other end. */
  readonly to: Point
  /** The line on which the end must stay: a straight from a leg; null: its side turns with it. */
  readonly bound: Pose | null
}

/** The joint at a free end of a track; null: nothing goes on there. withinMm: how far apart the two may be. */
export function jointAt(network: Network, track: Id, end: TrackEndName, withinMm = endsHoldMm): Joint | null {
  const mine = network.tracks.get(track)
  const met = mine === undefined ? null : endMet(network.tracks.values(), mine, end, withinMm)
  const theirs = met === null ? undefined : network.tracks.get(met.track)
  if (mine === undefined || met === null || theirs === undefined) return null
  const [own, other, at] = [sideAt(network, mine, end), sideAt(network, theirs, met.end), trackHandles(mine)[end]]
  return own === null || other === null || at === null ? null : { track, end, met, at, own, other }
}

function sideAt(network: Network, track: NetworkTrack, end: TrackEndName): Side | null {
  const { corners, start, end: last } = trackHandles(track)
  const corner = end === 'start' ? corners[0] : corners.at(-1)
  if (corner !== undefined) return { to: corner, bound: null }
  const far = end === 'start' ? track.track.end : track.track.start
  const to = end === 'start' ? last : start
  if (far.kind !== 'leg') return to && { to, bound: null }
  const result = network.turnouts.get(far.turnout)?.result
  const pose = result?.ok === true ? result.legs.find(({ leg }) => leg === far.leg)?.pose : undefined
  return to && { to, bound: pose ?? null }
}

/** Less than this is none, rad: what an end typed to a hundredth of a millimetre makes on a short side. */
const noKinkRad = 1e-3

export const jointIsStraight = ({ met }: Joint): boolean => Math.abs(met.kinkRad) <= noKinkRad

/** The line on which a joint stays without a kink, from the nearest PI of its own track on; null: it has a kink, and may go anywhere. */
export function jointLine(joint: Joint): Pose | null {
  const { own, other } = joint
  if (!jointIsStraight(joint)) return null
  return own.bound ?? { ...pointOf(own.to), headingRad: Math.atan2(other.to.y - own.to.y, other.to.x - own.to.x) }
}

/** Where a joint lies without a kink, next to where it is; null: no place does, as where a straight from a leg ends there. */
export function jointInLine({ own, other, at }: Joint): Point | null {
  if (own.bound !== null || other.bound !== null) return null
  const lengthMm = pointDistance(own.to, other.to)
  if (lengthMm === 0) return null
  const [ux, uy] = [(other.to.x - own.to.x) / lengthMm, (other.to.y - own.to.y) / lengthMm]
  const alongMm = (at.x - own.to.x) * ux + (at.y - own.to.y) * uy
  return alongMm <= 0 || alongMm >= lengthMm ? null : { x: own.to.x + alongMm * ux, y: own.to.y + alongMm * uy }
}

/** Both ends of a joint set to one place, as one step. */
export function jointMove({ track, end, met }: Joint, to: Point, label: string): PlanCommand {
  return { kind: 'group', label, commands: [endSet(track, end, to), endSet(met.track, met.end, to)] }
}

export function endSet(track: Id, end: TrackEndName, { x, y }: Point): PlanCommand {
  const place = { kind: 'free', x, y } as const
  return end === 'start' ? { kind: 'track.setStart', id: track, start: place } : { kind: 'track.setEnd', id: track, end: place }
}

/** Where the joint goes when the PI beside it does, so that its line stays one; `corner`: the new place of that PI. */
export function jointFollows({ own, other, at }: Joint, corner: Point): Point {
  const share = pointDistance(own.to, at) / pointDistance(own.to, other.to)
  return { x: corner.x + share * (other.to.x - corner.x), y: corner.y + share * (other.to.y - corner.y) }
}

const pointOf = ({ x, y }: Point): Point => ({ x, y })
