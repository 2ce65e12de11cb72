import { pathMove, pathNearest, pathPoseAt, poseOffset } from '../geom/index.ts'
import type { Path, Point } from '../geom/types.ts'
import type { Network, NetworkCrossing, NetworkTrack, NetworkTurnout } from '../network/types.ts'
import type { Id, JointRules, RailJoint } from '../plan/types.ts'
import { jointDistance, jointFeatures } from '../turnout/index.ts'
import type { JointFeature, JointRule } from '../turnout/index.ts'
import type { Finding } from './types.ts'

/** A place that keeps joints away: stations of a track, and how far aside of its line it lies, left positive. */
export interface Keeper {
  readonly rule: JointRule
  readonly places: readonly { readonly stationMm: number; readonly offsetMm: number }[]
  readonly withinMm: number
}

const slackMm = 0.05

/** All that joints of a track keep clear of, besides each other. guests: special work that it hangs on, with the end that does. */
export function jointKeepers(
  track: NetworkTrack,
  works: readonly (NetworkTurnout | NetworkCrossing | null)[],
  hosts: readonly (NetworkTurnout | null)[],
): readonly Keeper[] {
  const { alignment, railway } = track
  if (!alignment.ok) return []
  const { path, lengthMm } = { path: alignment.path, lengthMm: alignment.path.lengthMm }
  const curves = alignment.corners
    .filter(({ tsMm, stMm }) => stMm > tsMm)
    .flatMap(({ tsMm, stMm }) => [tsMm, stMm])
    .map((stationMm): Keeper => ({ rule: 'curveEnd', places: [{ stationMm, offsetMm: 0 }], withinMm: railway.gaugeMm }))
  const keepers = (
    features: readonly JointFeature[],
    gaugeMm: number,
    guide: Path,
    stationOf: (alongMm: number) => number,
    isTurned: boolean,
  ) =>
    features.map(({ rule, ends, withinGauges }): Keeper => {
      const places = ends.map((end) => {
        const { stationMm, offsetMm } = pathNearest(guide, end)
        return { stationMm: stationOf(stationMm), offsetMm: isTurned ? -offsetMm : offsetMm }
      })
      return { rule, places, withinMm: withinGauges * gaugeMm }
    })
  const own = works.flatMap((work) => {
    const features = work === null ? null : featuresOf(work)
    return features === null ? [] : keepers(features.list, features.gaugeMm, path, (at) => at, false)
  })
  // Ahead of its start, and behind its end, a track goes on along the route that it hangs on.
  const onLegs = hosts.flatMap((host, i) => {
    const end = i === 0 ? track.track.start : track.track.end
    if (host === null || end.kind !== 'leg' || !host.result.ok) return []
    const { geometry, pose } = host.result
    const route = geometry.legs.find(({ leg }) => leg === end.leg)?.route
    const way = geometry.routes.find(({ name }) => name === route)
    const features = featuresOf(host)
    if (way === undefined || features === null) return []
    const guide = pathMove(way.centre, pose)
    return i === 0
      ? keepers(features.list, features.gaugeMm, guide, (at) => at - guide.lengthMm, false)
      : keepers(features.list, features.gaugeMm, guide, (at) => lengthMm + guide.lengthMm - at, true)
  })
  return [...curves, ...own, ...onLegs]
}

function featuresOf(work: NetworkTurnout | NetworkCrossing): { readonly list: readonly JointFeature[]; readonly gaugeMm: number } | null {
  if ('turnout' in work) {
    if (!work.result.ok) return null
    return { list: jointFeatures(work.result.pose, work.result.geometry), gaugeMm: work.result.geometry.request.gaugeMm }
  }
  if (!work.result.ok) return null
  return { list: jointFeatures(work.pose, work.result.crossing), gaugeMm: work.result.crossing.request.gaugeMm }
}

/**
 * A joint of the builder's nearer to the end of a curve, points, a frog, a guard rail, a gap or a throw bar than the rules of laying
 * allow: one finding, of the rule that is broken by most. Measured: clear of it along the track, negative between its ends.
 *
 * Exactness: stations of the track; on a curve its rails are longer or shorter by the gauge's share of the turn, as the rail plan measures.
 */
export function ownJointPlace(joint: RailJoint, track: NetworkTrack, keepers: readonly Keeper[], rules: JointRules): readonly Finding[] {
  const half = (joint.rail === 'left' ? 1 : -1) * (track.railway.gaugeMm / 2)
  const broken = keepers.flatMap(({ rule, places, withinMm }) => {
    const beside = places.filter(({ offsetMm }) => Math.abs(offsetMm - half) <= withinMm).map(({ stationMm }) => stationMm)
    if (beside.length === 0) return []
    const clearMm = clearOf(joint.stationMm, Math.min(...beside), Math.max(...beside), lapOf(track))
    const limit = rules[jointDistance[rule]]
    return clearMm < limit - slackMm ? [{ rule, clearMm, limit }] : []
  })
  const [worst] = broken.toSorted((a, b) => a.clearMm - a.limit - (b.clearMm - b.limit))
  if (worst === undefined) return []
  return [
    jointFinding(joint, track, {
      id: `rail-joint:${joint.id}`,
      measured: worst.clearMm,
      limit: worst.limit,
      problem: { kind: 'jointNear', what: [...new Set(broken.map(({ rule }) => rule))] },
    }),
  ]
}

/** Two joints of the builder's across a track from each other, nearer than the stagger; told of the later one. */
export function ownJointStagger(
  joint: RailJoint,
  others: readonly RailJoint[],
  track: NetworkTrack,
  rules: JointRules,
): readonly Finding[] {
  const lapMm = lapOf(track)
  return others.flatMap((other): readonly Finding[] => {
    if (other.rail === joint.rail) return []
    const off = Math.abs(other.stationMm - joint.stationMm)
    const measured = lapMm === null ? off : Math.min(off, Math.abs(lapMm - off))
    if (measured >= rules.staggerMm - slackMm) return []
    return [
      jointFinding(joint, track, {
        id: `rail-joint:${joint.id}:${other.id}`,
        otherRecord: other.id,
        measured,
        limit: rules.staggerMm,
        problem: { kind: 'jointsAcross' },
      }),
    ]
  })
}

const lapOf = ({ alignment }: NetworkTrack): number | null => (alignment.ok && alignment.isClosed ? alignment.path.lengthMm : null)

/** How far a station is from a stretch; inside of it how deep, negative. */
function clearOf(stationMm: number, fromMm: number, toMm: number, lapMm: number | null): number {
  const shifts = lapMm === null ? [0] : [-lapMm, 0, lapMm]
  return Math.min(...shifts.map((shift) => Math.max(fromMm - (stationMm + shift), stationMm + shift - toMm)))
}

type Told = Pick<Finding, 'id' | 'measured' | 'limit' | 'problem'> & { readonly otherRecord?: Id }

function jointFinding(joint: RailJoint, track: NetworkTrack, told: Told): Finding {
  const { x, y } = placeOf(joint, track)
  return {
    rule: 'rail-joint',
    severity: 'warning',
    stage: 'track',
    table: 'railJoints',
    record: joint.id,
    otherRecord: null,
    corner: null,
    stationFromMm: joint.stationMm,
    stationToMm: joint.stationMm,
    x,
    y,
    unit: 'mm',
    source: 'railway',
    cure: null,
    ...told,
  }
}

function placeOf({ rail, stationMm }: RailJoint, { alignment, railway }: NetworkTrack): Point {
  if (!alignment.ok) return { x: 0, y: 0 }
  const { path } = alignment
  const pose = pathPoseAt(path, Math.min(Math.max(stationMm, 0), path.lengthMm))
  return poseOffset(pose, (rail === 'left' ? 1 : -1) * (railway.gaugeMm / 2))
}

/** The special work on a track, by the network. */
export function worksOnTrack(track: NetworkTrack, { turnoutsOn, crossingsOn }: Network): readonly (NetworkTurnout | NetworkCrossing)[] {
  const { id } = track.track
  return [...(turnoutsOn.get(id) ?? []), ...(crossingsOn.get(id) ?? [])]
}
