import { boxOfPoints } from '../../core/geom/index.ts'
import type { Point } from '../../core/geom/types.ts'
import { tracksFinder } from '../../core/network/index.ts'
import type { NetworkTrack } from '../../core/network/types.ts'
import type { Id } from '../../core/plan/types.ts'

const find = tracksFinder((track) => boxOfPoints(pointsOf(track)))

/** Every track of which a PI, an end or a side lies within reach of a point, and some that pass farther by, in the plan's order. */
export function tracksNear(tracks: ReadonlyMap<Id, NetworkTrack>, { x, y }: Point, reachMm: number): readonly NetworkTrack[] {
  return find(tracks, { minX: x - reachMm, minY: y - reachMm, maxX: x + reachMm, maxY: y + reachMm })
}

/** All that handles and sides are made of: as they are in the plan, and as the line uses them. */
function pointsOf({ track, alignment }: NetworkTrack): readonly Point[] {
  const ends = [track.start, track.end].flatMap((end) => (end.kind === 'free' ? [end] : []))
  return [...ends, ...track.corners, ...alignment.polygon]
}
