import { pathPoseAt, poseCompose, poseReverse } from '../geom/index.ts'
import type { Pose } from '../geom/types.ts'
import type { Turnout, TurnoutLeg } from '../plan/types.ts'
import type { TurnoutGeometry } from '../turnout/types.ts'
import type { NetworkTrack, NetworkTurnout, PlacementProblem } from './types.ts'

/** A turnout that ends this much past the end of its track still lies on it: rounding of stations, far below what can be laid. */
const slackMm = 1e-6

/** A wye stands at its track's end if it is off by no more than a stroke of the file, mm. */
const wyeSlackMm = 0.05

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
 * Stretch of the host that a turnout takes beside another on it: rails, head blocks and long ties; where frog ends look at each other the long
 * ties are shared, and only rails count.
 */
export function turnoutTaken(
  turnout: Pick<Turnout, 'stationMm' | 'facing'>,
  { extent, overallMm }: Pick<TurnoutGeometry, 'extent' | 'overallMm'>,
  other: Pick<Turnout, 'facing'> | null,
): Stretch {
  return turnoutStretch(turnout, extent.fromMm, other === null || other.facing === turnout.facing ? extent.toMm : overallMm)
}

/**
 * A solved turnout set on its solved host.
 *
 * A turnout that faces falling stations is the same turnout seen from the other direction. All that it takes of the host must be
 * there; a wye takes what lies ahead of its points, which stand at the track's end.
 *
 * Domain:   a geometry solved for this host at this station.
 * Outcome:  pose of PS and poses of the legs in the plan; or by how much it runs off the end.
 * Throws:   never.
 */
export function turnoutPlace(turnout: Turnout, geometry: TurnoutGeometry, host: NetworkTrack): NetworkTurnout['result'] {
  const { alignment } = host
  if (!alignment.ok) return { ok: false, problem: { kind: 'hostUnsolved' }, geometry, pose: null }
  const { path, isClosed } = alignment
  const { stationMm, facing, kind } = turnout
  const isWye = kind.kind === 'wye'
  const { fromMm, toMm } = geometry.extent
  const taken = turnoutStretch(turnout, fromMm, isWye ? 0 : toMm)
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
  const atEnd = wyeEndProblem(turnout, host)
  if (atEnd !== null) return fail(atEnd)
  const legs = geometry.legs.map((leg) => ({ ...leg, pose: poseCompose(pose, leg.pose) }))
  return { ok: true, pose, geometry, legs, leg: poseCompose(pose, geometry.leg) }
}

/** Why a wye cannot stand on this track at all, or not there; null: it can, or is none. */
export function wyeEndProblem({ kind, facing, stationMm }: Turnout, { alignment, track }: NetworkTrack): PlacementProblem | null {
  if (kind.kind !== 'wye' || !alignment.ok) return null
  const end = facing === 'rising' ? 'end' : 'start'
  if (track[end].kind !== 'free') return { kind: 'wyeEndTaken', end }
  const endMm = end === 'end' ? alignment.path.lengthMm : 0
  const offMm = Math.abs(endMm - stationMm)
  return offMm > wyeSlackMm ? { kind: 'wyeOffEnd', end, endMm, offMm } : null
}

/** Pose of a leg in the plan; null: the turnout has no such leg, or no place yet. */
export function legPose(result: NetworkTurnout['result'], leg: TurnoutLeg): Pose | null {
  return result.ok ? (result.legs.find((one) => one.leg === leg)?.pose ?? null) : null
}
