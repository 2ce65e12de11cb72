import type { Id } from '../../core/plan/types.ts'
import { trackOfSelection, trackStanding } from '../chart/trackOfSelection.ts'
import { usePlan, useSession } from '../context.ts'

/** The track that the selection is about, else the first one. */
export function useTrackInQuestion(): Id | null {
  const turnouts = usePlan((state) => state.plan.turnouts)
  const portals = usePlan((state) => state.plan.portals)
  const railJoints = usePlan((state) => state.plan.railJoints)
  const selection = useSession((session) => session.selection)
  const chosen = trackOfSelection(selection, { turnouts, portals, railJoints })
  return usePlan(({ plan }) => trackStanding(plan, [chosen]))
}
