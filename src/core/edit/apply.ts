import * as v from 'valibot'
import { dataCopy } from '../plan/data.ts'
import { issueFault } from '../plan/issue.ts'
import type { Plan } from '../plan/types.ts'
import { commandApply } from './commandApply.ts'
import { commandSchema } from './commandSchema.ts'
import type { EditResult, PlanCommand } from './types.ts'

/**
 * The patch that a command makes of a plan.
 *
 * Domain:  any command, also one from a script that does not keep to its type.
 * Outcome: a patch (empty when the command changes nothing), or a problem that says where and what would be right. `where` is a
 *          path in the command ('change.radius', 'commands.1.to.x') or, between records, in the document.
 * Removing: a track takes its turnouts and portals with it, and what was chosen for its crossings; a wall its openings; all of them what was silenced about them. What others stand on is not removed under them: a line class that tracks use, a car that
 *          a class uses, a turnout (or the host of one) from whose leg another track runs, a track that a maker stands on: `inUse`.
 *          `editRemoveCommand` makes the group that first sets those free. A maker takes with it what it made.
 * Made:    where a track or turnout of a maker lies is the maker's to say: `madeBy`.
 * Locked:  what is locked is neither changed nor taken out by any command but the one that takes the lock away: `locked`. It still goes
 *          where what it stands on goes: a turnout with its track, a track with the turnout that it hangs on.
 * Throws:  never.
 */
export function editApply(plan: Plan, command: PlanCommand): EditResult {
  const copied = dataCopy(command)
  if (!copied.ok) return { ok: false, problem: { kind: 'badValue', ...copied.fault } }
  const parsed = v.safeParse(commandSchema, copied.data, { abortEarly: true })
  if (!parsed.success) return { ok: false, problem: { kind: 'badValue', ...issueFault(parsed.issues[0]) } }
  return commandApply(plan, parsed.output)
}
