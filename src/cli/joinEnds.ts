import { pathStart, poseReverse } from '../core/geom/index.ts'
import type { Path } from '../core/geom/index.ts'
import { legPose, networkCreateDeriver } from '../core/network/index.ts'
import type { Network, NetworkTrack } from '../core/network/index.ts'
import type { JoinTo, PosedEnd } from '../core/pipeline/index.ts'
import type { Plan } from '../core/plan/index.ts'
import type { Track } from '../core/plan/types.ts'
import { lengthBoth } from './answer.ts'
import { BadInput } from './badInput.ts'
import { isTrackNamed, isTurnoutNamed, trackChosen, turnoutChosen } from './records.ts'
import { lengthTyped } from './values.ts'

/** The end that a line is to start from. Throws BadInput. */
export function joinFrom(plan: Plan, typed: string): { readonly from: PosedEnd; readonly network: Network } {
  const network = networkCreateDeriver()(plan)
  return { from: joinedEnd(plan, network, typed, 'from'), network }
}

/** Where a line may arrive: an end, or a track on which a turnout is to be placed, anywhere or at a station. Throws BadInput. */
export function joinTo(plan: Plan, network: Network, typed: string): JoinTo {
  const [, name, station] = /^(.*)@([^@]*)$/.exec(typed) ?? []
  if (name !== undefined && station !== undefined) return onTrack(plan, network, name, lengthTyped('to', station))
  if (isTurnoutNamed(plan, typed.replace(/:(diverging|other)$/, '')) || !isTrackNamed(plan, typed))
    return joinedEnd(plan, network, typed, 'to').end
  return onTrack(plan, network, typed, null)
}

function onTrack(plan: Plan, network: Network, name: string, stationMm: number | null): JoinTo {
  const track = trackChosen(plan, name, 'to')
  const { lengthMm } = trackSolved(network, track, 'to').path
  if (stationMm !== null && !(stationMm >= 0 && stationMm <= lengthMm))
    throw new BadInput(`--to ${name}: station ${lengthBoth(stationMm)} is not on the track, which is ${lengthBoth(lengthMm)} long.`)
  return { kind: 'onTrack', track: track.id, stationMm }
}

function joinedEnd(plan: Plan, network: Network, typed: string, option: string): PosedEnd {
  const [, name, end] = /^(.*):(start|end)$/.exec(typed) ?? []
  if (name !== undefined) {
    const track = trackChosen(plan, name, option)
    const { path, lineClass } = trackSolved(network, track, option)
    const which = end === 'start' ? 'start' : 'end'
    if (track[which].kind !== 'free') throw new BadInput(`--${option} ${typed}: this end is not free; it ${heldWords(track, which)}.`)
    return {
      end: { kind: 'trackEnd', track: track.id, end: which },
      pose: which === 'start' ? poseReverse(pathStart(path)) : path.end,
      lineClass,
    }
  }
  if (!isTurnoutNamed(plan, typed) && isTrackNamed(plan, typed))
    throw new BadInput(`--${option} ${typed}: say which end of the track, ${typed}:start or ${typed}:end.`)
  const [, ofTurnout = typed, legTyped] = /^(.*):(diverging|other)$/.exec(typed) ?? []
  const leg = legTyped === 'other' ? 'other' : 'diverging'
  const turnout = turnoutChosen(plan, ofTurnout, option)
  const set = network.turnouts.get(turnout.id)
  if (set?.result.ok !== true || set.lineClass === null)
    throw new BadInput(`--${option} ${typed}: this turnout cannot be set on its track. Mend the plan first.`)
  const pose = legPose(set.result, leg)
  if (pose === null) throw new BadInput(`--${option} ${typed}: this turnout has one leg only; leave out ":other".`)
  const holder = Object.values(plan.tracks).find((track) =>
    [track.start, track.end].some((place) => place.kind === 'leg' && place.turnout === turnout.id && place.leg === leg),
  )
  if (holder !== undefined) throw new BadInput(`--${option} ${typed}: track ${holder.name} already runs from this leg.`)
  return { end: { kind: 'leg', turnout: turnout.id, leg }, pose, lineClass: set.lineClass }
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
