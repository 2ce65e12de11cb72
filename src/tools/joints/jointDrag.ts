import type { PlanCommand } from '../../core/edit/types.ts'
import { pathNearestWithin, pathPoseAt } from '../../core/geom/index.ts'
import type { Point, Pose } from '../../core/geom/types.ts'
import { trackPath } from '../../core/network/index.ts'
import type { Network } from '../../core/network/types.ts'
import type { Id, Plan } from '../../core/plan/types.ts'
import { lineNearest, linePoseAt, runPlaceNear } from '../../core/rails/index.ts'
import type { JointRule, RailJoint, RailLine, RailPlace, RailRun } from '../../core/rails/index.ts'
import { wholeOf } from '../shared/snap.ts'

/* A joint taken along its rail. It stays in its run: beyond a break other rail begins. */

/** Where a joint would stand, and what the rules say to it there. */
export interface JointTrial {
  readonly place: RailPlace
  readonly atMm: number
  readonly pose: Pose
  /** Rules that forbid it there. */
  readonly rules: readonly JointRule[]
  /** Another joint of the builder's across the track that is nearer than the stagger; null: none. */
  readonly tooNear: { readonly joint: Id; readonly haveMm: number; readonly needMm: number } | null
}

export interface JointHold {
  readonly run: RailRun
  readonly line: RailLine
  /** The builder's own joint that is moved; null: one of the rules', of which an own one is made. */
  readonly own: Id | null
}

/** Nearer to an end of its run no joint stands: it would be no piece. */
const endMm = 1
/** A foot on the other rail and back again is off by less, mm. */
const roundingMm = 0.01
/** Between the ends of a stretch a station may be so far off before it is looked for on the track itself. */
const nearMm = 60

/** The run of a joint and its line; null: the rails have changed since. */
export function jointHold(
  rails: { readonly runs: readonly RailRun[]; readonly lines: readonly RailLine[] },
  joint: RailJoint,
): JointHold | null {
  const run = rails.runs.find(({ id }) => id === joint.run)
  const line = rails.lines.find((one) => one.run === joint.run)
  return run === undefined || line === undefined ? null : { run, line, own: joint.isOwn }
}

/** Where a held joint stands when the pointer is at a place; stepMm: its station goes by whole steps. Null: abreast of no track. */
export function jointTrial(
  { run, line, own }: JointHold,
  at: Point,
  plan: Plan,
  network: Network,
  stepMm: number | null,
): JointTrial | null {
  const { lengthMm } = line.path
  const inside = (atMm: number): number => (run.isClosed ? atMm : Math.min(Math.max(atMm, endMm), lengthMm - endMm))
  if (lengthMm < 2 * endMm) return null
  const free = inside(lineNearest(line, at).atMm)
  const exact = placeAt(run, line, free, network)
  if (exact === null) return null
  const stationMm = stepMm === null ? exact.stationMm : wholeOf(exact.stationMm, stepMm)
  const atMm = inside(alongOf(line, exact, stationMm, free, network))
  const place = stepMm !== null && Math.abs(atMm - free) <= stepMm ? { ...exact, stationMm } : exact
  return {
    place,
    atMm,
    pose: linePoseAt(line, atMm),
    rules: [...new Set(line.zones.filter(({ fromMm, toMm }) => atMm > fromMm && atMm < toMm).map(({ rule }) => rule))],
    tooNear: staggerAt(place, own, plan),
  }
}

/** Where a held joint stands at a typed station of the track that it is on; null: its rail does not reach there. */
export function jointAtStation(hold: JointHold, track: Id, stationMm: number, plan: Plan, network: Network): JointTrial | null {
  const path = trackPath(network, track)
  if (path === null || stationMm < 0 || stationMm > path.lengthMm) return null
  const trial = jointTrial(hold, pathPoseAt(path, stationMm), plan, network, null)
  const isThere = trial?.place.track === track && Math.abs(trial.place.stationMm - stationMm) < roundingMm
  return isThere ? { ...trial, place: { ...trial.place, stationMm } } : null
}

/** Between which stations of a track a held joint can stand; null: its rail goes all round. */
export function jointReach({ run }: JointHold, track: Id): { readonly fromMm: number; readonly toMm: number } | null {
  const stations = run.stretches.flatMap(({ from, to }) => [from, to].flatMap((place) => (place?.track === track ? [place.stationMm] : [])))
  return run.isClosed || stations.length < 2 ? null : { fromMm: Math.min(...stations), toMm: Math.max(...stations) }
}

/** The place abreast of a run at a distance along it, its station exact on the track's own line. */
function placeAt(run: RailRun, line: RailLine, atMm: number, network: Network): RailPlace | null {
  const near = runPlaceNear(run, atMm)
  const path = near === null ? null : trackPath(network, near.track)
  if (near === null || path === null || near.stationMm < 0 || near.stationMm > path.lengthMm) return near
  const [from, to] = [Math.max(0, near.stationMm - nearMm), Math.min(path.lengthMm, near.stationMm + nearMm)]
  return { ...near, stationMm: pathNearestWithin(path, linePoseAt(line, atMm), from, to).stationMm }
}

/** How far along its run a place is that lies a little farther on the same track. */
function alongOf(line: RailLine, { track, stationMm }: RailPlace, toMm: number, atMm: number, network: Network): number {
  const path = trackPath(network, track)
  const isOnLine = path !== null && [stationMm, toMm].every((at) => at >= 0 && at <= path.lengthMm)
  if (isOnLine) {
    // Both rails lie square to the track's line: the foot of the new place on this one.
    const near = pathNearestWithin(
      line.path,
      pathPoseAt(path, toMm),
      Math.max(0, atMm - nearMm),
      Math.min(line.path.lengthMm, atMm + nearMm),
    )
    return near.stationMm
  }
  return atMm
}

function staggerAt({ track, rail, stationMm }: RailPlace, own: Id | null, plan: Plan): JointTrial['tooNear'] {
  const needMm = plan.railway.laying.joints.staggerMm
  const near = Object.values(plan.railJoints)
    .filter((other) => other.id !== own && other.track === track && other.rail !== rail)
    .map((other) => ({ joint: other.id, haveMm: Math.abs(other.stationMm - stationMm), needMm }))
    .toSorted((a, b) => a.haveMm - b.haveMm)[0]
  return near !== undefined && near.haveMm < needMm ? near : null
}

/** What letting go of it there does. */
export function jointCommand(own: Id | null, place: RailPlace): PlanCommand {
  return own === null ? { kind: 'railJoint.add', record: place } : { kind: 'railJoint.set', id: own, change: place }
}
