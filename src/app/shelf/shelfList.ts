import { planParse } from '../../core/plan/index.ts'
import type { Plan } from '../../core/plan/types.ts'
import type { KeptPlan, PlanLibrary } from '../../store/index.ts'
import type { Keeper } from '../keeper.ts'

/** A plan of the shelf as it can be shown. */
export interface ShelfEntry {
  readonly kept: KeptPlan
  /** Null: it cannot be read; it stays where it is. */
  readonly plan: Plan | null
  /** Another page has it open. */
  readonly isElsewhere: boolean
}

export interface VersionEntry {
  readonly plan: Plan
  readonly savedAtMs: number
}

const planOf = (document: unknown): Plan | null => {
  const read = planParse(document)
  return read.ok ? read.plan : null
}

/** All plans but the one on the desk, the latest first. */
export async function shelfList({ library, claimed, planId }: Keeper): Promise<readonly ShelfEntry[]> {
  const [plans, atWork] = await Promise.all([library.plans(), claimed()])
  const others = plans.filter(({ id }) => id !== planId())
  return others.map((kept) => ({ kept, plan: planOf(kept.document), isElsewhere: atWork.has(kept.id) }))
}

/** Versions that can be read, newest first. */
export async function versionList(library: PlanLibrary, planId: string): Promise<readonly VersionEntry[]> {
  return (await library.versions(planId)).flatMap(({ document, savedAtMs }) => {
    const plan = planOf(document)
    return plan === null ? [] : [{ plan, savedAtMs }]
  })
}

export const planRenamed = (plan: Plan, title: string): Plan => ({ ...plan, railway: { ...plan.railway, title } })

export const dateText = (ms: number): string =>
  new Date(ms).toLocaleString('en-GB', { day: 'numeric', month: 'short', year: 'numeric', hour: '2-digit', minute: '2-digit' })
