import type { JoinTarget } from '../core/alignment/index.ts'
import { pathStart, poseReverse } from '../core/geom/index.ts'
import type { Path, Pose } from '../core/geom/index.ts'
import { networkCreateDeriver, turnoutPlacesOn } from '../core/network/index.ts'
import type { Network, NetworkTrack } from '../core/network/index.ts'
import type { Plan } from '../core/plan/index.ts'
import type { Facing, Hand, LineClass, Track } from '../core/plan/types.ts'
import { BadInput } from './badInput.ts'
import { isTrackNamed, isTurnoutNamed, trackChosen, turnoutChosen } from './records.ts'

/** An end to be joined: the pose that leaves it, and the class of the track it belongs to. */
export interface Joined {
  readonly pose: Pose
  readonly lineClass: LineClass
  readonly network: Network
}

/** A turnout that a line would come in at. */
export interface PlacedTurnout {
  readonly track: string
  readonly facing: Facing
  readonly hand: Hand
  readonly frog: number
}

/** The end that a line is to start from. Throws BadInput. */
export function joinFrom(plan: Plan, typed: string): Joined {
  const network = networkCreateDeriver()(plan)
  return joinedEnd(plan, network, typed, 'from')
}

/** Where a line may arrive: one leg, or a track with every turnout that could stand on a straight of it. Throws BadInput. */
export function joinTargets(
  plan: Plan,
  typed: string,
  { network }: Joined,
  frog: number | null,
): readonly { readonly target: JoinTarget; readonly turnout: PlacedTurnout | null }[] {
  if (isTurnoutNamed(plan, typed) || !isTrackNamed(plan, typed))
    return [{ target: { kind: 'pose', pose: joinedEnd(plan, network, typed, 'to').pose }, turnout: null }]
  const placed = placesOn(network, trackChosen(plan, typed, 'to'), frog)
  if (placed.length === 0) throw new BadInput(`--to ${typed}: no free straight of this track is long enough for a turnout.`)
  return placed
}

function joinedEnd(plan: Plan, network: Network, typed: string, option: string): Joined {
  const [, name, end] = /^(.*):(start|end)$/.exec(typed) ?? []
  if (name !== undefined) {
    const track = trackChosen(plan, name, option)
    const { path, lineClass } = trackSolved(network, track, option)
    const which = end === 'start' ? 'start' : 'end'
    if (track[which].kind !== 'free') throw new BadInput(`--${option} ${typed}: this end is not free; it ${heldWords(track, which)}.`)
    return { pose: which === 'start' ? poseReverse(pathStart(path)) : path.end, lineClass, network }
  }
  if (!isTurnoutNamed(plan, typed) && isTrackNamed(plan, typed))
    throw new BadInput(`--${option} ${typed}: say which end of the track, ${typed}:start or ${typed}:end.`)
  const turnout = turnoutChosen(plan, typed, option)
  const set = network.turnouts.get(turnout.id)
  if (set?.result.ok !== true || set.lineClass === null)
    throw new BadInput(`--${option} ${typed}: this turnout cannot be set on its track. Mend the plan first.`)
  const holder = Object.values(plan.tracks).find((track) =>
    [track.start, track.end].some((place) => place.kind === 'leg' && place.turnout === turnout.id),
  )
  if (holder !== undefined) throw new BadInput(`--${option} ${typed}: track ${holder.name} already runs from this leg.`)
  return { pose: set.result.leg, lineClass: set.lineClass, network }
}

const heldWords = (track: Track, which: 'start' | 'end'): string => {
  const place = track[which]
  if (place.kind === 'leg') return `hangs on turnout ${place.turnout}`
  return 'closes a loop'
}

function trackSolved(network: Network, track: Track, option: string): NetworkTrack & { readonly path: Path } {
  const solved = network.tracks.get(track.id)
  if (solved?.alignment.ok !== true)
    throw new BadInput(`--${option} ${track.name}: the line of this track cannot be solved. Mend the plan first.`)
  if (track.end.kind === 'closed' && option === 'from') throw new BadInput(`--from ${track.name}: a loop has no free end.`)
  return { ...solved, path: solved.alignment.path }
}

/** Every hand and facing of a turnout on every free straight that is long enough for it. */
function placesOn(
  network: Network,
  track: Track,
  frogAsked: number | null,
): readonly { readonly target: JoinTarget; readonly turnout: PlacedTurnout }[] {
  const solved = trackSolved(network, track, 'to')
  const frog = frogAsked ?? solved.lineClass.usualFrog
  const found = turnoutPlacesOn(network, solved, frog)
  if (!found.ok) throw new BadInput(`--frog ${frog}: no such turnout can be built in this gauge.`)
  return found.places.map(({ hand, facing, ...place }) => ({
    target: { kind: 'along', facing, ...place },
    turnout: { track: track.id, facing, hand, frog },
  }))
}
