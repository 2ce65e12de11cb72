import { createRoot } from 'react-dom/client'
import { planEmpty, planParse } from '../core/plan/index.ts'
import type { Plan } from '../core/plan/index.ts'
import { checksWorker } from '../engine/checksWorker.ts'
import { planChecks } from '../engine/planChecks.ts'
import { workerEngine } from '../engine/worker.ts'
import {
  autosaveStart,
  claimAlways,
  claimByLocks,
  leaveWatch,
  newsByChannel,
  planRestore,
  prefsOfLanguage,
  sessionKeep,
  sessionKept,
  shelfIdb,
} from '../store/index.ts'
import type { PlanShelf, Restored, TextStorage } from '../store/index.ts'
import { deskStoreCreate } from './desk.ts'
import { demoPlanRead } from './file/planFile.ts'
import { offlineBegin } from './offline/offline.ts'
import { linkWatch } from './share/linkMark.ts'
import { storesCreate } from './stores.ts'
import { fontsAdd } from './theme/fonts.ts'
import { planFileProblemText } from '../words/fileText.ts'
import { Workbench } from './Workbench.tsx'
import './theme/index.css'

/** Without a worker, checks wait this long for the newest plan: shorter than a person takes to look from the hand to the findings. */
const restMs = 120

/** The page finds everything as it was left; on the first visit the demo railway lies on the desk. */
async function start(): Promise<void> {
  const root = document.getElementById('root')
  if (root === null) return
  fontsAdd(document.fonts)
  const storage = storageOf(window)
  const bench = location.search.includes('bench=') ? await import('./bench/benchStart.ts') : null
  const pieces = bench?.benchAsked(location.search) ?? null
  const shelf = bench === null || pieces === null ? shelfIdb() : bench.shelfNone
  const restored = await planRestore(shelf)
  const made = pieces === null ? null : (bench?.benchPlan(pieces) ?? null)
  const example = made === null && restored.plan === null ? await demoPlanRead() : null
  const plan = made ?? restored.plan ?? example ?? planEmpty()
  const session = restored.plan === null ? {} : sessionKept(storage, plan)
  const checks = planChecks({
    engine: checksWorker(),
    fallback: async () => (await import('../engine/checksInline.ts')).checksInline(),
    rest: () => new Promise((rested) => setTimeout(rested, restMs)),
  })
  const engine = workerEngine()
  const stores = storesCreate(plan, checks, engine, session, storage, restored.history, prefsOfLanguage(navigator.language))
  const desk = deskStoreCreate()
  desk.getState().set({ example })
  const claim = 'locks' in navigator ? claimByLocks(navigator.locks) : claimAlways()
  const autosave = autosaveStart({
    planStore: stores.plan,
    shelf,
    restored,
    claim,
    ...('BroadcastChannel' in window ? { news: newsByChannel() } : {}),
  })
  const writeSession = storage === null ? (): void => undefined : sessionKeep(stores.session, storage)
  leaveWatch(window, () => {
    void autosave.flush()
    writeSession()
  })
  stores.session.getState().setNotice(restoredNotice(restored))
  void earlierPlan(shelf).then((laidAside) => (desk.getState().laidAside === null ? desk.getState().set({ laidAside }) : undefined))

  linkWatch(window, desk)
  createRoot(root).render(<Workbench stores={stores} desk={desk} engine={engine} keeper={{ ...autosave, library: shelf }} />)
  if (made !== null) bench?.benchReadyTell(window)
  offlineBegin(desk, autosave.flush)
}

/** Local storage, where the browser gives one. */
function storageOf(page: Window): TextStorage | null {
  try {
    return page.localStorage
  } catch {
    return null
  }
}

/** The last plan that another one replaced on the shelf; null: none that can be read. */
async function earlierPlan(shelf: PlanShelf): Promise<Plan | null> {
  try {
    for (const aside of await shelf.asides()) {
      if (aside.why !== 'replaced') continue
      const read = planParse(aside.document)
      if (read.ok) return read.plan
    }
  } catch {
    // A shelf that cannot be read has nothing to offer; the autosave tells why.
  }
  return null
}

function restoredNotice(restored: Restored): string | null {
  if (restored.setAside === null) return null
  const what = restored.plan === null ? 'A fresh one is on the desk' : 'The one kept before it is on the desk'
  return `The plan kept in this browser cannot be opened. ${planFileProblemText(restored.setAside)} It is set aside, unharmed. ${what}.`
}

void start()
