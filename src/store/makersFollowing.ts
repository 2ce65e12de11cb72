import { editApply, patchApply, patchIsEmpty, patchLeavesAny, patchSquash } from '../core/edit/index.ts'
import type { PlanPatch } from '../core/edit/index.ts'
import { makersFollow } from '../core/makers/index.ts'
import { networkCreateDeriver } from '../core/network/index.ts'
import type { Plan } from '../core/plan/index.ts'

/**
 * A function that lets makers follow an edit: the patch comes back with all that they write anew because of it, so that both are one step.
 *
 * A maker may stand on what another one made; each round carries on by one, so there are as many rounds as makers at most.
 * What a maker cannot follow stays as it is; a command of it that the plan refuses is passed over for the same reason.
 */
export function makersFollowing(): (plan: Plan, patch: PlanPatch) => PlanPatch {
  const networkOf = networkCreateDeriver()
  return (plan, patch) => {
    if (patchIsEmpty(patch) || !patchLeavesAny(plan, patch, 'makers')) return patch
    let whole = patch
    let at = patchApply(plan, patch)
    const rounds = Object.keys(at.makers).length
    for (let round = 0; round < rounds; round++) {
      const before = at
      for (const command of makersFollow(at, networkOf(at))) {
        const result = editApply(at, command)
        if (!result.ok) continue
        at = patchApply(at, result.patch)
        whole = patchSquash(whole, result.patch)
      }
      if (at === before) break
    }
    return whole
  }
}
