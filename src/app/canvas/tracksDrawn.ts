import { useState } from 'react'
import { useShallow } from 'zustand/react/shallow'
import { boxesOverlap, boxOfPoints, pathBoxKept } from '../../core/geom/index.ts'
import type { Box } from '../../core/geom/types.ts'
import type { NetworkTrack } from '../../core/network/types.ts'
import type { Id } from '../../core/plan/types.ts'
import { useDerived } from '../context.ts'
import { viewBoxInPlan } from './viewport.ts'
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

/** Tracks whose shapes are to be drawn; stays the same list while the same ones are. */
export function useTracksDrawn(isFar: boolean, region: Box): readonly Id[] {
  return useDerived(
    useShallow(({ derived: { network } }) =>
      !isMany(network.tracks) ? [...network.tracks.keys()] : isFar ? unsolvedOf(network.tracks) : tracksIn(network.tracks, region),
    ),
  )
}

/** Of those that have no line the picture from afar shows nothing: they are few, and drawn as shapes. */
function unsolvedOf(tracks: Tracks): readonly Id[] {
  const found: Id[] = []
  for (const [id, { alignment }] of tracks) if (!alignment.ok) found.push(id)
  return found
}

export function tracksIn(tracks: Tracks, region: Box): readonly Id[] {
  const found: Id[] = []
  for (const [id, track] of tracks) {
    const box = trackBox(track)
    if (box !== null && boxesOverlap(box, region)) found.push(id)
  }
  return found
}

/** A view and as much again on every side: most pushes and steps of the wheel stay within it, and then nothing is looked for anew. */
export function useRegion(view: View): Box {
  const now = viewBoxInPlan(view)
  const [kept, setKept] = useState(() => grown(now, 1))
  const isWithin = holds(kept, grown(now, 0.25)) && kept.maxX - kept.minX < 6 * (now.maxX - now.minX)
  const region = isWithin ? kept : grown(now, 1)
  if (!isWithin) setKept(region)
  return region
}

const holds = (outer: Box, inner: Box): boolean =>
  outer.minX <= inner.minX && outer.minY <= inner.minY && outer.maxX >= inner.maxX && outer.maxY >= inner.maxY

function grown({ minX, minY, maxX, maxY }: Box, share: number): Box {
  const [x, y] = [(maxX - minX) * share, (maxY - minY) * share]
  return { minX: minX - x, minY: minY - y, maxX: maxX + x, maxY: maxY + y }
}
