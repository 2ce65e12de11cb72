import { dataFreeze, planVersion } from '../../core/plan/index.ts'
import type { Plan } from '../../core/plan/index.ts'
import { readingLate } from '../../store/index.ts'

/** The demo railway, from beside the page. It is made with the page and needs no reading: tests hold that reading changes nothing of it. */
export async function demoPlanRead(): Promise<Plan | null> {
  try {
    const answer = await fetch(new URL('demo/fennimore.json', document.baseURI))
    if (!answer.ok) return null
    const plan: Plan = await answer.json()
    // What a cache kept of an earlier build is read like any other plan.
    if (plan.version === planVersion) return dataFreeze(plan)
    const result = (await readingLate.bring()).planParse(plan)
    return result.ok ? result.plan : null
  } catch {
    // Offline before the first visit was whole: there is no demo then, and an empty room does as well.
    return null
  }
}
