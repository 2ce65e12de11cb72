import type { PlanCommand } from '../../src/core/edit/index.ts'
import type { Plan } from '../../src/core/plan/index.ts'
import { autosaveStart, claimsAlways, planRestore, planStoreCreate } from '../../src/store/index.ts'
import type { PlanShelf } from '../../src/store/index.ts'
import type { Claims } from '../../src/store/claim.ts'
import type { ShelfNews } from '../../src/store/news.ts'
import { aTrack, aTurnout, planWith } from './plans.ts'
import { timingByHand } from './timing.ts'

export const demo = planWith({ tracks: [aTrack()], turnouts: [aTurnout()] })
export const moveTo = (stationMm: number): PlanCommand => ({ kind: 'turnout.set', id: 'turnout-1', change: { stationMm } })
export const stationOf = (document: unknown) => (document as Plan | null)?.turnouts['turnout-1']?.stationMm

/** A page of the app on a shelf: the plan asked for or left there, or the demo. */
export async function page(shelf: PlanShelf, claims: Claims = claimsAlways, news?: ShelfNews, planId: string | null = null) {
  const timing = timingByHand()
  const restored = await planRestore(shelf, planId)
  const planStore = planStoreCreate(restored.plan ?? demo, restored.history)
  const autosave = autosaveStart({
    planStore,
    shelf,
    restored,
    claims,
    timing,
    clock: () => 1_000_000 + timing.now(),
    ...(news && { news }),
  })
  await autosave.flush()
  return {
    restored,
    autosave,
    edit: () => planStore.getState(),
    status: () => autosave.status.getState(),
    /** Lets time pass and what it starts come to its end. */
    async wait(ms: number) {
      timing.pass(ms)
      await settle()
    },
  }
}

/** Lets every promise that is under way come to its end. */
export const settle = (): Promise<void> =>
  new Promise((resolve) => {
    setImmediate(resolve)
  })
