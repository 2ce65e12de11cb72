import { createRoot } from 'react-dom/client'
import { planEmpty } from '../core/plan/index.ts'
import { checksLate, engineLate } from '../engine/engineLate.ts'
import { planChecks } from '../engine/planChecks.ts'
import {
  autosaveStart,
  claimsAlways,
  claimsByLocks,
  leaveWatch,
  newsByChannel,
  planRestore,
  plansClaimed,
  prefsOfLanguage,
  sessionKeep,
  sessionKept,
  shelfIdb,
} from '../store/index.ts'
import type { TextStorage } from '../store/index.ts'
import { deskStoreCreate } from './desk.ts'
import { demoPlanRead } from './file/demoPlan.ts'
import { offlineBegin } from './offline/offline.ts'
import { lateBring } from './lateParts.ts'
import { linkWatch } from './share/linkMark.ts'
import { storesCreate } from './stores.ts'
import { fontsAdd } from './theme/fonts.ts'
import { whenHandComes } from './whenHandComes.ts'
import { Workbench } from './Workbench.tsx'
import './theme/index.css'

/** In a drag, and without a worker always, checks wait this long for the newest plan: shorter than a person takes to look from the hand to the findings. */
const restMs = 120

/** The page finds everything as it was left; on the first visit the demo railway lies on the desk. */
async function start(): Promise<void> {
  const root = document.getElementById('root')
  if (root === null) return
  fontsAdd(document.fonts)
  const storage = storageOf(() => window.localStorage)
  const tab = storageOf(() => window.sessionStorage)
  const bench = location.search.includes('bench=') ? await import('./bench/benchStart.ts') : null
  const pieces = bench?.benchAsked(location.search) ?? null
  const shelf = bench === null || pieces === null ? shelfIdb() : bench.shelfNone
  const restored = await planRestore(shelf, tabPlan(tab))
  const made = pieces === null ? null : (bench?.benchPlan(pieces) ?? null)
  const example = made === null && restored.plan === null ? await demoPlanRead() : null
  const plan = made ?? restored.plan ?? example ?? planEmpty()
  const session = restored.plan === null ? {} : sessionKept(storage, plan, restored.planId)
  const checks = planChecks({
    engine: checksLate(async () => (await import('../engine/checksWorker.ts')).checksWorker()),
    fallback: async () => (await import('../engine/checksInline.ts')).checksInline(),
    rest: () => new Promise((rested) => setTimeout(rested, restMs)),
  })
  const engine = engineLate(async () => (await import('../engine/worker.ts')).workerEngine())
  const stores = storesCreate(plan, checks, engine, session, storage, restored.history, prefsOfLanguage(navigator.language))
  const desk = deskStoreCreate()
  // On a narrow screen what lies on the desk is said in the drawer.
  desk.getState().set({ example, drawer: example === null ? null : 'stage' })
  const locks = 'locks' in navigator ? navigator.locks : null
  const autosave = autosaveStart({
    planStore: stores.plan,
    shelf,
    restored,
    claims: locks === null ? claimsAlways : claimsByLocks(locks),
    laid: (planId) => tabPlanKeep(tab, planId),
    ...('BroadcastChannel' in window ? { news: newsByChannel() } : {}),
  })
  const writeSession = storage === null ? (): void => undefined : sessionKeep(stores.session, storage, autosave.planId)
  const claimed = async (): Promise<ReadonlySet<string>> => (locks === null ? new Set() : plansClaimed(locks))
  desk.getState().set({ keeper: { ...autosave, library: shelf, claimed } })
  leaveWatch(
    window,
    () => {
      void autosave.flush()
      writeSession()
    },
    autosave.isUnkept,
  )
  const notice =
    restored.unreadable === null ? null : (await import('./file/restoredText.ts')).restoredText(restored.unreadable, restored.plan)
  stores.session.getState().setNotice(notice)

  linkWatch(window, desk)
  createRoot(root).render(<Workbench stores={stores} desk={desk} engine={engine} />)
  // What does not come then is asked for again where it is drawn.
  whenHandComes(window, () => void lateBring().catch(() => undefined))
  if (made !== null) bench?.benchReadyTell(window)
  offlineBegin(desk, autosave, stores.session.getState().setNotice)
}

/** A storage of texts, where the browser gives one. */
function storageOf(give: () => Storage): Storage | null {
  try {
    return give()
  } catch {
    return null
  }
}

/** Each tab comes back to its own plan; a new one opens the plan that was last at work. */
const tabKey = 'waybench.plan'

function tabPlan(tab: TextStorage | null): string | null {
  try {
    return tab?.getItem(tabKey) ?? null
  } catch {
    return null
  }
}

function tabPlanKeep(tab: TextStorage | null, planId: string): void {
  try {
    tab?.setItem(tabKey, planId)
  } catch {
    // Then it opens what was last at work.
  }
}

void start()
