import { endMet, endPose, endsHoldMm, endsNearMm } from '../network/index.ts'
import type { EndMet, NetworkTrack } from '../network/index.ts'
import type { TrackEndName } from '../plan/types.ts'
import { tracksAt } from './trackEnds.ts'
import type { TrackEnds } from './trackEnds.ts'
import type { Finding } from './types.ts'

/** A line may turn so much in a joint, rad, a bit over half a degree: less than a rail does at its own joints. [COMMON-PRACTICE, no source] */
const limitRad = 0.01

/**
 * Where the ends of two tracks meet so that trains would run on, and the line turns in the joint or a gap is left: one finding a joint, of the
 * track that comes first in the plan.
 *
 * Units: mm, rad. Exactness: that of the solved lines.
 */
export function lineJoints({ tracks, places, near }: TrackEnds): readonly Finding[] {
  const found: Finding[] = []
  for (const place of places) {
    const track = tracks[place]
    if (track === undefined) continue
    for (const end of ['start', 'end'] as const) {
      const later = near(place, end).filter((other) => other > place)
      const met = later.length === 0 ? null : endMet(tracksAt(tracks, later), track, end, endsNearMm)
      if (met !== null) found.push(...jointFindings(track, end, met))
    }
  }
  return found
}

function jointFindings(networkTrack: NetworkTrack, end: TrackEndName, met: EndMet): readonly Finding[] {
  const { track, alignment } = networkTrack
  const pose = endPose(networkTrack, end)
  const isGap = met.gapMm > endsHoldMm
  if (!alignment.ok || pose === null || (!isGap && Math.abs(met.kinkRad) <= limitRad)) return []
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
