import type { Pose } from '../geom/types.ts'
import { endMet, endPose, endsHoldMm, endsNearMm } from '../network/index.ts'
import type { EndMet, NetworkTrack } from '../network/index.ts'
import type { TrackEndName } from '../plan/types.ts'
import type { Finding } from './types.ts'

/** A line may turn so much in a joint, rad, a bit over half a degree: less than a rail does at its own joints. [COMMON-PRACTICE, no source] */
const limitRad = 0.01

interface FreeEnd {
  readonly track: NetworkTrack
  readonly end: TrackEndName
  readonly pose: Pose
}

/**
 * Where the ends of two tracks meet so that trains would run on, and the line turns in the joint or a gap is left: one finding a joint, of the
 * track that comes first in the plan.
 *
 * Units: mm, rad. Exactness: that of the solved lines.
 */
export function lineJoints(tracks: readonly NetworkTrack[]): readonly Finding[] {
  const ends = tracks.flatMap((track) =>
    (['start', 'end'] as const).flatMap((end): readonly FreeEnd[] => {
      const pose = endPose(track, end)
      return pose === null ? [] : [{ track, end, pose }]
    }),
  )
  const order = new Map(tracks.map(({ track }, i) => [track.id, i]))
  const byX = ends.toSorted((a, b) => a.pose.x - b.pose.x)
  const near = new Map<FreeEnd, NetworkTrack[]>()
  for (const [i, one] of byX.entries()) {
    for (let j = i + 1; j < byX.length; j++) {
      const other = byX[j]
      if (other === undefined || other.pose.x - one.pose.x > endsNearMm) break
      if (Math.abs(other.pose.y - one.pose.y) > endsNearMm || other.track === one.track) continue
      const [first, later] = (order.get(one.track.track.id) ?? 0) < (order.get(other.track.track.id) ?? 0) ? [one, other] : [other, one]
      near.set(first, [...(near.get(first) ?? []), later.track])
    }
  }
  return ends.flatMap((end) => {
    const met = endMet(near.get(end) ?? [], end.track, end.end, endsNearMm)
    return met === null ? [] : jointFindings(end, met)
  })
}

function jointFindings({ track: { track, alignment }, end, pose }: FreeEnd, met: EndMet): readonly Finding[] {
  const isGap = met.gapMm > endsHoldMm
  if (!alignment.ok || (!isGap && Math.abs(met.kinkRad) <= limitRad)) return []
  const stationMm = end === 'start' ? 0 : alignment.path.lengthMm
  return [
    {
      id: `line-joint:${track.id}:${end}:${met.track}`,
      rule: 'line-joint',
      severity: 'error',
      stage: 'line',
      table: 'tracks',
      record: track.id,
      otherRecord: met.track,
      corner: null,
      stationFromMm: stationMm,
      stationToMm: stationMm,
      x: pose.x,
      y: pose.y,
      measured: isGap ? met.gapMm : Math.abs(met.kinkRad),
      limit: isGap ? endsHoldMm : limitRad,
      unit: isGap ? 'mm' : 'rad',
      source: 'geometry',
      problem: { kind: 'jointOff', gapMm: met.gapMm, kinkRad: met.kinkRad },
      cure: null,
    },
  ]
}
