import { boxOfPoints } from '../../core/geom/index.ts'
import type { Point } from '../../core/geom/types.ts'
import type { NetworkTrack } from '../../core/network/types.ts'
import { placesChanged, RowMap } from '../../core/plan/index.ts'
import type { Keys } from '../../core/plan/index.ts'
import type { Id } from '../../core/plan/types.ts'

/** Boxes of tracks, four numbers each: every step of a drag runs through those of thousands, and makes anew what changed. */
interface Boxes {
  readonly numbers: Float64Array
  tracks: readonly NetworkTrack[]
}

const known = new WeakMap<Keys, Boxes>()

/** Every track of which a PI, an end or a side lies within reach of a point, and some that pass farther by, in the plan's order. */
export function tracksNear(tracks: ReadonlyMap<Id, NetworkTrack>, at: Point, reachMm: number): readonly NetworkTrack[] {
  const rows = RowMap.rowsOf(tracks)
  if (rows === null) return [...tracks.values()]
  const boxes = boxesOf(rows.keys, rows.values)
  const edge = (place: number, side: number): number => boxes[4 * place + side] ?? Number.NaN
  return rows.values.filter(
    (_, place) =>
      edge(place, 0) - reachMm <= at.x &&
      at.x <= edge(place, 2) + reachMm &&
      edge(place, 1) - reachMm <= at.y &&
      at.y <= edge(place, 3) + reachMm,
  )
}

function boxesOf(keys: Keys, tracks: readonly NetworkTrack[]): Float64Array {
  const before = known.get(keys)
  const boxes: Boxes = before ?? { numbers: new Float64Array(4 * tracks.length), tracks: [] }
  const places = before === undefined ? null : placesChanged(before.tracks, tracks)
  for (const place of places ?? tracks.keys()) {
    const track = tracks[place]
    const box = track === undefined ? null : boxOfPoints(pointsOf(track))
    // What is NaN is near nothing.
    boxes.numbers.set(box === null ? [Number.NaN, Number.NaN, Number.NaN, Number.NaN] : [box.minX, box.minY, box.maxX, box.maxY], 4 * place)
  }
  boxes.tracks = tracks
  known.set(keys, boxes)
  return boxes.numbers
}

/** All that handles and sides are made of: as they are in the plan, and as the line uses them. */
function pointsOf({ track, alignment }: NetworkTrack): readonly Point[] {
  const ends = [track.start, track.end].flatMap((end) => (end.kind === 'free' ? [end] : []))
  return [...ends, ...track.corners, ...alignment.polygon]
}
