import { boxOfPoints, boxRow, boxRowHolds, boxRowSet, type BoxRow } from '../../core/geom/index.ts'
import type { Point } from '../../core/geom/types.ts'
import type { NetworkTrack } from '../../core/network/types.ts'
import { placesChanged, RowMap } from '../../core/plan/index.ts'
import type { Keys, Rows } from '../../core/plan/index.ts'
import type { Id } from '../../core/plan/types.ts'

/** Boxes of tracks: every step of a drag runs through those of thousands, and makes anew what changed. */
interface Boxes {
  readonly row: BoxRow
  tracks: Rows<NetworkTrack>
}

const known = new WeakMap<Keys, Boxes>()

/** Every track of which a PI, an end or a side lies within reach of a point, and some that pass farther by, in the plan's order. */
export function tracksNear(tracks: ReadonlyMap<Id, NetworkTrack>, at: Point, reachMm: number): readonly NetworkTrack[] {
  const rows = RowMap.rowsOf(tracks)
  if (rows === null) return [...tracks.values()]
  const boxes = boxesOf(rows)
  const near: NetworkTrack[] = []
  for (let place = 0; place < rows.values.length; place++) {
    const track = boxRowHolds(boxes, place, at, reachMm) ? rows.values.at(place) : undefined
    if (track !== undefined) near.push(track)
  }
  return near
}

function boxesOf(rows: Rows<NetworkTrack>): BoxRow {
  const { length } = rows.values
  const before = known.get(rows.keys)
  const boxes: Boxes = before ?? { row: boxRow(length), tracks: rows }
  const places = before === undefined ? null : placesChanged(before.tracks, rows)
  for (const place of places ?? Array.from({ length }, (_, i) => i)) {
    const track = rows.values.at(place)
    boxRowSet(boxes.row, place, track === undefined ? null : boxOfPoints(pointsOf(track)))
  }
  boxes.tracks = rows
  known.set(rows.keys, boxes)
  return boxes.row
}

/** All that handles and sides are made of: as they are in the plan, and as the line uses them. */
function pointsOf({ track, alignment }: NetworkTrack): readonly Point[] {
  const ends = [track.start, track.end].flatMap((end) => (end.kind === 'free' ? [end] : []))
  return [...ends, ...track.corners, ...alignment.polygon]
}
