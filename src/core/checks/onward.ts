import { lineBefore, routeBefore, routeJump } from '../clearance/index.ts'
import { pathFromElements, pathMove, pathPoseAt, poseBeforeJump, poseCompose, poseJump, poseReverse, poseToLocal } from '../geom/index.ts'
import type { PathJump } from '../geom/index.ts'
import type { Path, Pose } from '../geom/types.ts'
import type { Network, NetworkTrack, NetworkTurnout } from '../network/types.ts'
import type { TurnoutLeg } from '../plan/types.ts'

/*
 * What cars come from before an end of a run, run towards that end. It is told in the frame of the end, looking into the run: so it is the
 * same wherever a host and what hangs on it are moved together, and nothing is swept anew.
 */

/** Before the points of a turnout, for what leads to one of its legs; null: the host is not solved. */
export function pointsOnward(turnout: NetworkTurnout, leg: TurnoutLeg, network: Network, feelMm: number): Path | null {
  const path = routeBefore(network, turnout, leg, feelMm)
  return path && endedBefore(path, routeJump(turnout, leg))
}

/** Before a track's end that goes on into another of some tracks; null: into none. */
export function lineOnward(tracks: Iterable<NetworkTrack>, track: NetworkTrack, at: 'start' | 'end', feelMm: number): Path | null {
  const { alignment } = track
  if (!alignment.ok) return null
  const { path } = alignment
  const before = lineBefore(tracks, track.track.id, path, at, feelMm)
  const inwards = at === 'start' ? pathPoseAt(path, 0) : poseReverse(pathPoseAt(path, path.lengthMm))
  return before && endedBefore(before, poseJump(before.end, inwards))
}

const origin: Pose = { x: 0, y: 0, headingRad: 0 }

/** The elements of a path laid anew so that they end where the jump leads to the origin: where they lay leaves no trace, not in the last digit. */
function endedBefore({ elements }: Path, jump: PathJump | null): Path {
  const path = pathFromElements(origin, elements)
  const end = jump === null ? origin : poseBeforeJump(jump)
  const headingRad = -path.end.headingRad
  return pathMove(path, poseCompose(end, { ...poseToLocal(path.end, origin), headingRad }))
}

interface Known {
  readonly host: NetworkTrack | undefined
  readonly feelMm: number
  readonly path: Path | null
}

/** The same, kept as the same objects as long as they bend and end alike. */
export function onwardCreate() {
  const last = new Map<string, Path | null>()
  const same = (key: string, path: Path | null): Path | null => {
    const before = last.get(key)
    if (before !== undefined && isSamePath(before, path)) return before
    last.set(key, path)
    return path
  }
  const known = new WeakMap<NetworkTurnout, { [L in TurnoutLeg]?: Known }>()
  const ofPoints = (turnout: NetworkTurnout, leg: TurnoutLeg, network: Network, feelMm: number): Path | null => {
    const host = network.tracks.get(turnout.turnout.track)
    const legs = known.get(turnout) ?? {}
    const before = legs[leg]
    if (before !== undefined && before.host === host && before.feelMm === feelMm) return before.path
    const path = same(`turnout ${turnout.turnout.id} ${leg} ${feelMm}`, pointsOnward(turnout, leg, network, feelMm))
    legs[leg] = { host, feelMm, path }
    known.set(turnout, legs)
    return path
  }
  const ofEnd = (track: NetworkTrack, at: 'start' | 'end', near: readonly NetworkTrack[], feelMm: number): Path | null =>
    near.length === 0 ? null : same(`track ${track.track.id} ${at}`, lineOnward(near, track, at, feelMm))
  return { ofPoints, ofEnd }
}

/** Whether two paths bend alike and end in the same pose, to the last bit. */
function isSamePath(a: Path | null, b: Path | null): boolean {
  if (a === null || b === null) return a === b
  return (
    a === b ||
    (a.elements.length === b.elements.length &&
      a.lengthMm === b.lengthMm &&
      a.end.x === b.end.x &&
      a.end.y === b.end.y &&
      a.end.headingRad === b.end.headingRad &&
      a.elements.every((one, i) => {
        const other = b.elements[i]
        return other !== undefined && one.lengthMm === other.lengthMm && one.k0 === other.k0 && one.k1 === other.k1
      }))
  )
}
