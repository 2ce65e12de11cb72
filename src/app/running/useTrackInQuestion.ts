import type { Id } from '../../core/plan/types.ts'
import { trackOfSelection } from '../chart/trackOfSelection.ts'
import { usePlan, useSession } from '../context.ts'

/** The track that the selection is about, else the first one. */
export function useTrackInQuestion(): Id | null {
  const tracks = usePlan((state) => state.plan.tracks)
  const turnouts = usePlan((state) => state.plan.turnouts)
  const portals = usePlan((state) => state.plan.portals)
  const railJoints = usePlan((state) => state.plan.railJoints)
  const selection = useSession((session) => session.selection)
  const chosen = trackOfSelection(selection, { turnouts, portals, railJoints })
  return chosen !== null && tracks[chosen] !== undefined ? chosen : (Object.keys(tracks)[0] ?? null)
}
