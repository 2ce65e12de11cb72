import { pathPoseAt, pathStart, pointDistance, pointLerp } from '../geom/index.ts'
import type { Point } from '../geom/types.ts'
import type { Network, NetworkTrack } from '../network/types.ts'
import type { Id } from '../plan/types.ts'
import type { Finding } from './types.ts'

/**
 * Where a line without a place of its own stands: on the host of a turnout that it hangs on, at the station where that turnout is wanted.
 *
 * Outcome:    null where none of its hosts has a place either.
 * Throws:     never; hosts that hang on each other in a circle are looked at once.
 */
function hostPlace({ track }: NetworkTrack, network: Network, seen: ReadonlySet<Id>): Point | null {
  for (const end of [track.start, track.end]) {
    const turnout = end.kind === 'leg' ? network.turnouts.get(end.turnout) : undefined
    if (turnout === undefined) continue
    if (turnout.result.pose !== null) return turnout.result.pose
    const host = network.tracks.get(turnout.turnout.track)
    if (host === undefined || seen.has(host.track.id)) continue
    const at = lineAt(host, turnout.turnout.stationMm) ?? hostPlace(host, network, new Set([...seen, host.track.id]))
    if (at !== null) return at
  }
  return null
}

/** A place of a line about a station, held to the line; of one that is not solved along the sides between its PIs. */
function lineAt({ alignment }: NetworkTrack, stationMm: number): Point | null {
  if (alignment.ok) {
    const { path } = alignment
    return path.elements.length === 0 ? pathStart(path) : pathPoseAt(path, Math.min(Math.max(stationMm, 0), path.lengthMm))
  }
  let leftMm = Math.max(0, stationMm)
  let before: Point | null = null
  for (const point of alignment.polygon) {
    const sideMm: number = before === null ? 0 : pointDistance(before, point)
    if (before !== null && leftMm <= sideMm) return sideMm === 0 ? point : pointLerp(before, point, leftMm / sideMm)
    leftMm -= sideMm
    before = point
  }
  return before
}

/** A finding of a track that waits for its turnout, at its own points or, where it has none, at that turnout's host. */
export function waitingPlace(finding: Finding, network: Network): Point | null {
  const track = network.tracks.get(finding.record)
  if (finding.problem?.kind !== 'legUnsolved' || track === undefined || track.alignment.ok) return null
  return track.alignment.polygon.length > 0 ? null : hostPlace(track, network, new Set([track.track.id]))
}
