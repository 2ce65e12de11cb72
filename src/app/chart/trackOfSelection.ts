import { planRows, recordFind } from '../../core/plan/index.ts'
import type { Id, Plan } from '../../core/plan/types.ts'
import type { Selection } from '../../store/types.ts'

/** What stands on a track. */
type Standing = Pick<Plan, 'turnouts' | 'portals' | 'railJoints'>

/** The track that the selection is about. */
export function trackOfSelection(selection: Selection, plan: Standing): Id | null {
  switch (selection.kind) {
    case 'corner':
    case 'trackEnd':
      return selection.track
    case 'record':
      return trackOfRecord(selection, plan)
    case 'several':
      return selection.members.find(({ table }) => table === 'tracks')?.id ?? null
    case 'none':
    case 'ringPoint':
      return null
  }
}

function trackOfRecord({ table, id }: Extract<Selection, { kind: 'record' }>, plan: Standing): Id | null {
  switch (table) {
    case 'tracks':
      return id
    case 'turnouts':
    case 'portals':
    case 'railJoints':
      return plan[table][id]?.track ?? null
    default:
      return null
  }
}

/** The first of these tracks that is in the plan, else the first track of the plan; null: it has none. */
export function trackStanding(plan: Pick<Plan, 'tracks'>, wanted: readonly (Id | null)[]): Id | null {
  const there = wanted.find((id) => id !== null && recordFind(plan, 'tracks', id) !== null)
  return there ?? planRows(plan, 'tracks').keys.ids[0] ?? null
}
