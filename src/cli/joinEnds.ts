import type { JoinTarget } from '../core/alignment/index.ts'
import { pathStart, poseReverse } from '../core/geom/index.ts'
import type { Path, Pose } from '../core/geom/index.ts'
import { networkCreateDeriver, turnoutStretch } from '../core/network/index.ts'
import type { Network, Stretch } from '../core/network/index.ts'
import type { Plan } from '../core/plan/index.ts'
import type { Facing, Hand, LineClass, Track } from '../core/plan/types.ts'
import { turnoutRequest, turnoutSolve } from '../core/turnout/index.ts'
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
  const placed = placesOn(plan, network, trackChosen(plan, typed, 'to'), frog)
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

function trackSolved(network: Network, track: Track, option: string): { readonly path: Path; readonly lineClass: LineClass } {
  const solved = network.tracks.get(track.id)
  if (solved?.alignment.ok !== true)
    throw new BadInput(`--${option} ${track.name}: the line of this track cannot be solved. Mend the plan first.`)
  if (track.end.kind === 'closed' && option === 'from') throw new BadInput(`--from ${track.name}: a loop has no free end.`)
  return { path: solved.alignment.path, lineClass: solved.lineClass }
}

/** The straights of a track less what its turnouts take. */
function straightsFree(network: Network, track: Track, path: Path): readonly Stretch[] {
  const laps = track.end.kind === 'closed' ? [0, path.lengthMm, -path.lengthMm] : [0]
  const taken = (network.turnoutsOn.get(track.id) ?? []).flatMap(({ turnout, result }) => {
    if (!result.ok) return []
    const { fromMm, toMm } = turnoutStretch(turnout, result.geometry.extent.fromMm, result.geometry.extent.toMm)
    return laps.map((lapMm): Stretch => ({ fromMm: fromMm + lapMm, toMm: toMm + lapMm }))
  })
  const straights = path.elements
    .filter(({ k0, k1 }) => k0 === 0 && k1 === 0)
    .map(({ startStationMm, lengthMm }): Stretch => ({ fromMm: startStationMm, toMm: startStationMm + lengthMm }))
  return taken.reduce<readonly Stretch[]>((free, cut) => free.flatMap((stretch) => stretchLess(stretch, cut)), straights)
}

function stretchLess(stretch: Stretch, cut: Stretch): readonly Stretch[] {
  if (cut.toMm <= stretch.fromMm || cut.fromMm >= stretch.toMm) return [stretch]
  const before: Stretch = { fromMm: stretch.fromMm, toMm: cut.fromMm }
  const behind: Stretch = { fromMm: cut.toMm, toMm: stretch.toMm }
  return [before, behind].filter(({ fromMm, toMm }) => toMm > fromMm)
}

/** Every hand and facing of a turnout on every free straight that is long enough for it. */
function placesOn(
  plan: Plan,
  network: Network,
  track: Track,
  frogAsked: number | null,
): readonly { readonly target: JoinTarget; readonly turnout: PlacedTurnout }[] {
  const { path, lineClass } = trackSolved(network, track, 'to')
  const frog = frogAsked ?? lineClass.usualFrog
  const hands: readonly Hand[] = ['left', 'right']
  const facings: readonly Facing[] = ['rising', 'falling']
  const straights = straightsFree(network, track, path)
  return hands.flatMap((hand) => {
    const solved = turnoutSolve(turnoutRequest(plan.railway, lineClass, { hand, frog, build: standardBuild }))
    if (!solved.ok) throw new BadInput(`--frog ${frog}: no such turnout can be built in this gauge.`)
    const { extent, leg } = solved.turnout
    return straights.flatMap((straight) =>
      facings.flatMap((facing) => {
        const isRising = facing === 'rising'
        const fromMm = straight.fromMm + (isRising ? -extent.fromMm : extent.toMm)
        const toMm = straight.toMm + (isRising ? -extent.toMm : extent.fromMm)
        if (fromMm > toMm) return []
        return [{ target: { kind: 'along', path, fromMm, toMm, facing, leg } as const, turnout: { track: track.id, facing, hand, frog } }]
      }),
    )
  })
}

const standardBuild = {
  points: 'straight',
  pointLengthMm: 'standard',
  pointThicknessMm: 'standard',
  heelSpreadMm: 'standard',
  toeLengthMm: 'standard',
  heelLengthMm: 'standard',
} as const
