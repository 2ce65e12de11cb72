import type { PlanCommand } from '../edit/types.ts'
import type { Network } from '../network/types.ts'
import { dataEqual, recordFind } from '../plan/index.ts'
import type { Maker, Plan } from '../plan/types.ts'
import { makerExpand } from './expand.ts'

/**
 * The commands that bring what makers made back in line with their numbers and what they stand on, after an edit of the plan.
 *
 * Outcome:  none when all is in line. A maker that cannot follow is left as it stands: what it made then says by itself what is wrong.
 *           One maker may stand on what another made; then the commands of a second call say the rest.
 */
export function makersFollow(plan: Plan, network: Network): readonly PlanCommand[] {
  return Object.values(plan.makers).flatMap((maker) => {
    const result = makerExpand(plan, network, maker)
    return result.ok && !isInLine(plan, maker, result.command) ? [result.command] : []
  })
}

function isInLine(plan: Plan, { made }: Maker, { tracks, turnouts }: Extract<PlanCommand, { readonly kind: 'maker.write' }>): boolean {
  return (
    made.tracks.length === tracks.length &&
    made.turnouts.length === turnouts.length &&
    tracks.every((track) => dataEqual(recordFind(plan, 'tracks', track.id), track)) &&
    turnouts.every((turnout) => dataEqual(recordFind(plan, 'turnouts', turnout.id), turnout))
  )
}
