import { editApply, patchApply } from '../../core/edit/index.ts'
import type { PlanCommand } from '../../core/edit/types.ts'
import type { Path } from '../../core/geom/types.ts'
import { networkCreateDeriver, trackPath } from '../../core/network/index.ts'
import type { Id, Plan } from '../../core/plan/types.ts'

/** The line of a track as a command would leave it; null: it is refused, or the track has no line then. */
export function lineAfter(plan: Plan, command: PlanCommand, track: Id): Path | null {
  const edit = editApply(plan, command)
  if (!edit.ok) return null
  return trackPath(networkCreateDeriver()(patchApply(plan, edit.patch)), track)
}
