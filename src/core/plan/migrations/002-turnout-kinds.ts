import type { Data } from '../data.ts'
import type { Migration, OldPlan } from '../migrate.ts'
import { isTable } from './fields.ts'

/** Version 3 has kinds of turnouts and a table of crossings. Before, all turnouts were plain ones, and nothing was chosen at a crossing. */
export const migration002: Migration = {
  from: 2,
  // What other programs had put under these names stays in its place, for the reader to say what is wrong with it.
  migrate: (plan) => ({ crossings: {}, ...plan, ...turnoutsOf(plan) }),
}

function turnoutsOf({ turnouts }: OldPlan): OldPlan {
  if (!isTable(turnouts)) return {}
  const kinds = Object.entries(turnouts).map(([id, turnout]): [string, Data] => [
    id,
    isTable(turnout) ? { kind: { kind: 'plain' }, ...turnout } : turnout,
  ])
  return { turnouts: Object.fromEntries(kinds) }
}
