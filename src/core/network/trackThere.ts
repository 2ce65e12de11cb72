import { boxesOverlap, boxGrow, pathBox, pathBoxKept, pathNearest, pathPoseAt } from '../geom/index.ts'
import type { Path } from '../geom/types.ts'
import type { Id } from '../plan/types.ts'
import type { NetworkTrack } from './types.ts'

/** Places of a line that are looked at. */
const lookedAt = 32
/** A line lies on another where so much of it does; less is a crossing, or where both leave one host. */
const share = 1 / 4

/**
 * The track on which a line would lie that is not in the plan yet: nearer than asked along a quarter of the line or more, the one along most
 * of it; null: the ground is free.
 *
 * Units: mm. but: tracks that the line may lie near, as its own host.
 */
export function trackThere(tracks: Iterable<NetworkTrack>, line: Path, withinMm: number, but: readonly Id[]): Id | null {
  const near = boxGrow(pathBox(line, 0), withinMm)
  let found: Id | null = null
  let most = lookedAt * share
  for (const { track, alignment } of tracks) {
    if (!alignment.ok || but.includes(track.id) || !boxesOverlap(near, pathBoxKept(alignment.path))) continue
    let count = 0
    for (let i = 0; i < lookedAt; i++) {
      const at = pathPoseAt(line, ((i + 0.5) / lookedAt) * line.lengthMm)
      if (pathNearest(alignment.path, at).distanceMm < withinMm) count++
    }
    if (count < most || (count === most && found !== null)) continue
    most = count
    found = track.id
  }
  return found
}
