import { useMemo, useState } from 'react'
import { useShallow } from 'zustand/react/shallow'
import { boxesOverlap, boxOfPoints, pathBoxKept } from '../../core/geom/index.ts'
import type { Box } from '../../core/geom/types.ts'
import { tracksFinder } from '../../core/network/index.ts'
import type { NetworkTrack } from '../../core/network/types.ts'
import { RowMap } from '../../core/plan/index.ts'
import type { RowChange } from '../../core/plan/index.ts'
import type { Id } from '../../core/plan/types.ts'
import { useDerived } from '../context.ts'
import { boxBeyond, viewBoxInPlan } from './viewport.ts'
import type { View } from './viewport.ts'

/*
 * A railway of many tracks is not drawn as so many shapes: from afar its lines are one picture (FarLines), from near only those shapes
 * are there that are in view or would come into it by a push.
 */

type Tracks = ReadonlyMap<Id, NetworkTrack>

/** From so many tracks on, shapes of them all cost more than a frame. Measured: the bench `big`. */
const manyTracks = 400

export const isMany = (tracks: Tracks): boolean => tracks.size > manyTracks

/** Where a track is drawn; null: nothing is known of it. */
export function trackBox({ alignment }: NetworkTrack): Box | null {
  return alignment.ok && alignment.path.elements.length > 0 ? pathBoxKept(alignment.path) : boxOfPoints(alignment.polygon)
}

/** From so many on, those out of view are not drawn from near: each that is there asks in every step of a drag whether it is another. */
const someTracks = 40

/** Tracks whose shapes are to be drawn; stays the same list while the same ones are. */
export function useTracksDrawn(isFar: boolean, region: Box): readonly Id[] {
  const drawnOf = useMemo(() => {
    // Of those that have no line the picture from afar shows nothing: they are few, and drawn as shapes.
    const chosenOf = tracksChosen(isFar ? ({ alignment }) => !alignment.ok : isWithin(region))
    const isAll = (tracks: Tracks): boolean => (isFar ? !isMany(tracks) : tracks.size <= someTracks)
    return (tracks: Tracks): readonly Id[] => (isAll(tracks) ? (RowMap.rowsOf(tracks)?.keys.ids ?? [...tracks.keys()]) : chosenOf(tracks))
  }, [isFar, region])
  return useDerived(useShallow(({ derived: { network } }) => drawnOf(network.tracks)))
}

const isWithin =
  (region: Box) =>
  (track: NetworkTrack): boolean => {
    const box = trackBox(track)
    return box !== null && boxesOverlap(box, region)
  }

export const tracksWithin = tracksFinder(trackBox)

export const tracksIn = (tracks: Tracks, region: Box): readonly Id[] => tracksWithin(tracks, region).map(({ track }) => track.id)

/** A function that chooses among tracks and remembers what it chose: in every step of a drag it looks only at those that changed. */
function tracksChosen(isChosen: (track: NetworkTrack) => boolean): (tracks: Tracks) => readonly Id[] {
  let before: { readonly tracks: Tracks; readonly ids: readonly Id[] } | null = null
  return (tracks) => {
    const changes = before === null ? null : tracksChanged(before.tracks, tracks)
    const isSame = changes?.every(({ was, is }) => isChosen(was) === isChosen(is)) === true
    const ids = before !== null && isSame ? before.ids : [...tracks.values()].filter(isChosen).map(({ track }) => track.id)
    before = { tracks, ids }
    return ids
  }
}

/** Tracks that are others now than they were; null: some came or went. */
export const tracksChanged = (before: Tracks, now: Tracks): readonly RowChange<NetworkTrack>[] | null =>
  before === now ? [] : RowMap.changed(before, now)

/** A view and as much again on every side: most pushes and steps of the wheel stay within it, and then nothing is looked for anew. */
export function useRegion(view: View): Box {
  const now = viewBoxInPlan(view)
  const [kept, setKept] = useState(() => boxBeyond(now, 1))
  const isWithin = holds(kept, boxBeyond(now, 0.25)) && kept.maxX - kept.minX < 6 * (now.maxX - now.minX)
  const region = isWithin ? kept : boxBeyond(now, 1)
  if (!isWithin) setKept(region)
  return region
}

const holds = (outer: Box, inner: Box): boolean =>
  outer.minX <= inner.minX && outer.minY <= inner.minY && outer.maxX >= inner.maxX && outer.maxY >= inner.maxY
