import { planParse } from '../../core/plan/index.ts'
import type { Plan } from '../../core/plan/index.ts'

/** The demo railway, from beside the page. */
export async function demoPlanRead(): Promise<Plan | null> {
  try {
    const answer = await fetch(new URL('demo/fennimore.json', document.baseURI))
    if (!answer.ok) return null
    const result = planParse(await answer.json())
    return result.ok ? result.plan : null
  } catch {
    // Offline before the first visit was whole: there is no demo then, and an empty room does as well.
    return null
  }
}
