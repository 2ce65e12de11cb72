import type { Id } from '../../core/plan/types.ts'
import { trackOfSelection } from '../chart/trackOfSelection.ts'
import { usePlan, useSession } from '../context.ts'

/** The track that the selection is about, else the first one. */
export function useTrackInQuestion(): Id | null {
  const tracks = usePlan((state) => state.plan.tracks)
  const turnouts = usePlan((state) => state.plan.turnouts)
  const selection = useSession((session) => session.selection)
  const chosen = trackOfSelection(selection, (turnout) => turnouts[turnout]?.track ?? null)
  return chosen !== null && tracks[chosen] !== undefined ? chosen : (Object.keys(tracks)[0] ?? null)
}
