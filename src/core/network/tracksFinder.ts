import { boxesOverlap, boxRow, boxRowOverlaps, boxRowSet, type BoxRow } from '../geom/index.ts'
import type { Box } from '../geom/types.ts'
import { placesChanged, RowMap } from '../plan/index.ts'
import type { Keys, Rows } from '../plan/index.ts'
import type { Id } from '../plan/types.ts'
import type { NetworkTrack } from './types.ts'

interface Boxes {
  readonly row: BoxRow
  tracks: Rows<NetworkTrack>
}

/** All tracks whose box meets another, in the plan's order. */
export type TracksFinder = (tracks: ReadonlyMap<Id, NetworkTrack>, within: Box) => readonly NetworkTrack[]

/**
 * A finder of tracks by the boxes that `boxOf` tells; null: such a track is never found.
 *
 * It keeps the boxes in one list of numbers: every step of a drag runs through those of thousands, and makes anew what changed.
 */
export function tracksFinder(boxOf: (track: NetworkTrack) => Box | null): TracksFinder {
  const known = new WeakMap<Keys, Boxes>()

  function boxesNow(rows: Rows<NetworkTrack>): BoxRow {
    const before = known.get(rows.keys)
    const boxes: Boxes = before ?? { row: boxRow(rows.values.length), tracks: rows }
    const set = (place: number, track: NetworkTrack | undefined): void =>
      boxRowSet(boxes.row, place, track === undefined ? null : boxOf(track))
    const places = before === undefined ? null : placesChanged(before.tracks, rows)
    if (places === null) rows.values.forEach((track, place) => set(place, track))
    else for (const place of places) set(place, rows.values.at(place))
    boxes.tracks = rows
    known.set(rows.keys, boxes)
    return boxes.row
  }

  return (tracks, within) => {
    const rows = RowMap.rowsOf(tracks)
    if (rows === null) {
      return [...tracks.values()].filter((track) => {
        const box = boxOf(track)
        return box !== null && boxesOverlap(box, within)
      })
    }
    const boxes = boxesNow(rows)
    const found: NetworkTrack[] = []
    for (let place = 0; place < rows.values.length; place++) {
      const track = boxRowOverlaps(boxes, place, within) ? rows.values.at(place) : undefined
      if (track !== undefined) found.push(track)
    }
    return found
  }
}
