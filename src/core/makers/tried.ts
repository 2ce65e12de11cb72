import { editApply, patchApply } from '../edit/index.ts'
import type { Network } from '../network/types.ts'
import type { Maker, Plan } from '../plan/types.ts'
import { makerExpand } from './expand.ts'
import type { MakerResult } from './types.ts'

type Made = Extract<MakerResult, { readonly ok: true }>

/** A maker's work as it would lie in the plan. */
export interface MakerTried {
  readonly plan: Plan
  readonly command: Made['command']
}

/** The plan with all that a maker makes, written in no plan yet; null: it makes nothing, or the plan refuses it. */
export function makerTried(plan: Plan, network: Network, maker: Maker): MakerTried | null {
  const result = makerExpand(plan, network, maker)
  const edited = result.ok ? editApply(plan, result.command) : null
  return result.ok && edited?.ok === true ? { plan: patchApply(plan, edited.patch), command: result.command } : null
}
