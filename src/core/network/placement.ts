import { pathPoseAt, poseCompose, poseReverse } from '../geom/index.ts'
import type { Pose } from '../geom/types.ts'
import type { Alignment } from '../alignment/types.ts'
import type { Turnout, TurnoutLeg } from '../plan/types.ts'
import type { TurnoutGeometry } from '../turnout/types.ts'
import type { NetworkTurnout, PlacementProblem } from './types.ts'

/** A turnout that ends this much outside a straight still lies on it: rounding of stations, far below what can be laid. */
const slackMm = 1e-6

type SolvedAlignment = Extract<Alignment, { ok: true }>

/** A stretch of stations. On a closed track it may run below 0 or past the length, where the track goes on. */
export interface Stretch {
  readonly fromMm: number
  readonly toMm: number
}

/** Stretch of the host's stations between two distances from PS, which count from points to frog. */
export function turnoutStretch(turnout: Pick<Turnout, 'stationMm' | 'facing'>, fromMm: number, toMm: number): Stretch {
  return turnout.facing === 'rising'
    ? { fromMm: turnout.stationMm + fromMm, toMm: turnout.stationMm + toMm }
    : { fromMm: turnout.stationMm - toMm, toMm: turnout.stationMm - fromMm }
}

/**
 * A turnout set on its solved host.
 *
 * A turnout that faces falling stations is the same turnout seen from the other direction. The whole of what it takes
 * must lie on one straight; on a closed track that may be the straight that holds station zero.
 *
 * Outcome:  pose of PS and pose of the leg in the plan; or by how much it runs off the end, or the straight there is.
 * Throws:   never.
 */
export function turnoutPlace(turnout: Turnout, geometry: TurnoutGeometry, alignment: SolvedAlignment): NetworkTurnout['result'] {
  const { path, isClosed } = alignment
  const { stationMm, facing } = turnout
  const taken = turnoutStretch(turnout, geometry.extent.fromMm, geometry.extent.toMm)
  const isOnTrack = stationMm >= 0 && stationMm <= path.lengthMm
  const along = isOnTrack ? pathPoseAt(path, stationMm) : null
  const atPs = along && { x: along.x, y: along.y, headingRad: along.headingRad }
  const pose: Pose | null = atPs && (facing === 'rising' ? atPs : poseReverse(atPs))
  const fail = (problem: PlacementProblem): NetworkTurnout['result'] => ({ ok: false, problem, geometry, pose })

  const ends = isClosed ? { fromMm: stationMm, toMm: stationMm } : taken
  const beforeStart = -ends.fromMm
  const beyondEnd = ends.toMm - path.lengthMm
  if (beforeStart > slackMm) return fail({ kind: 'runsOff', end: 'start', overMm: beforeStart })
  if (beyondEnd > slackMm) return fail({ kind: 'runsOff', end: 'end', overMm: beyondEnd })
  if (pose === null) return fail({ kind: 'runsOff', end: stationMm < 0 ? 'start' : 'end', overMm: Math.max(beforeStart, beyondEnd) })

  const straights = straightsAt(alignment, stationMm)
  const holds = straights.some((straight) => straight.fromMm <= taken.fromMm + slackMm && straight.toMm >= taken.toMm - slackMm)
  if (!holds) {
    const { fromMm, toMm } = straights[0] ?? { fromMm: stationMm, toMm: stationMm }
    return fail({ kind: 'hostNotStraight', straightFromMm: fromMm, straightToMm: toMm })
  }
  const legs = geometry.legs.map((leg) => ({ ...leg, pose: poseCompose(pose, leg.pose) }))
  return { ok: true, pose, geometry, legs, leg: poseCompose(pose, geometry.leg) }
}

/** Pose of a leg in the plan; null: the turnout has no such leg, or no place yet. */
export function legPose(result: NetworkTurnout['result'], leg: TurnoutLeg): Pose | null {
  return result.ok ? (result.legs.find((one) => one.leg === leg)?.pose ?? null) : null
}

/** Straights that hold a station; two where it is the join of two. */
function straightsAt({ path, isClosed }: SolvedAlignment, stationMm: number): Stretch[] {
  const straights: Stretch[] = path.elements
    .filter(({ k0, k1 }) => k0 === 0 && k1 === 0)
    .map(({ startStationMm, lengthMm }) => ({ fromMm: startStationMm, toMm: startStationMm + lengthMm }))
  const first = straights[0]
  const last = straights[straights.length - 1]
  // Station zero of a closed track lies on a straight, whose two halves are the first and the last element.
  if (isClosed && first && last && first !== last && first.fromMm <= slackMm && last.toMm >= path.lengthMm - slackMm) {
    const whole = { fromMm: last.fromMm - path.lengthMm, toMm: first.toMm }
    straights.push(whole, { fromMm: last.fromMm, toMm: first.toMm + path.lengthMm })
    straights.splice(straights.indexOf(first), 1)
    straights.splice(straights.indexOf(last), 1)
  }
  return straights.filter(({ fromMm, toMm }) => fromMm <= stationMm + slackMm && toMm >= stationMm - slackMm)
}
