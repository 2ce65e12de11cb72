import { planParse } from '../../core/plan/index.ts'
import type { Plan } from '../../core/plan/types.ts'
import type { PlanLibrary } from '../../store/index.ts'

/** A plan of the shelf as it can be shown. plan: null when it cannot be read; it stays where it is. */
export interface ShelfEntry {
  readonly id: string
  readonly plan: Plan | null
  readonly savedAtMs: number
  readonly isAway: boolean
}

export interface VersionEntry {
  readonly plan: Plan
  readonly savedAtMs: number
}

const planOf = (document: unknown): Plan | null => {
  const read = planParse(document)
  return read.ok ? read.plan : null
}

export async function shelfList(library: PlanLibrary): Promise<{ readonly deskId: string | null; readonly others: readonly ShelfEntry[] }> {
  const { deskId, others } = await library.plans()
  return {
    deskId,
    others: others.map(({ id, document, savedAtMs, awayAtMs }) => ({ id, plan: planOf(document), savedAtMs, isAway: awayAtMs !== null })),
  }
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
