import { useMemo } from 'react'
import { endsHoldMm, endsNearMm } from '../../core/network/index.ts'
import type { Id, TrackEndName } from '../../core/plan/types.ts'
import { jointAt } from '../../tools/index.ts'
import type { Joint } from '../../tools/index.ts'
import { useDerived } from '../context.ts'

/** Whether both ends of a joint hold together, so that one is moved with the other. */
export const isHeld = ({ met }: Joint): boolean => met.gapMm <= endsHoldMm

/** What an end of a track goes on into, or lies a few millimetres from; null: nothing. */
export function useJoint(track: Id, end: TrackEndName): Joint | null {
  const network = useDerived((state) => state.derived.network)
  return useMemo(() => jointAt(network, track, end, endsNearMm), [network, track, end])
}
