import type { Claim, Claims } from '../../src/store/claim.ts'
import type { ShelfNews } from '../../src/store/news.ts'
import { notesOn } from '../../src/store/shelf.ts'
import type { KeptPlan, PlanNote, PlanShelf } from '../../src/store/shelf.ts'

/** A shelf in memory with the contract of the real one; `fail` makes every call reject until it is set back to null. */
export function shelfInMemory(): PlanShelf & { fail: Error | null; writes: number; plans(): readonly KeptPlan[]; last(): KeptPlan | null } {
  const kept = new Map<string, KeptPlan>()
  const before = new Map<string, unknown>()
  let notes: readonly PlanNote[] = []
  const ofPlan = (id: string): readonly PlanNote[] => notes.filter((note) => note.id === id)
  let lastId: string | null = null
  const turn = async (): Promise<void> => {
    await Promise.resolve()
    if (shelf.fail !== null) throw shelf.fail
  }
  const find = (id: string | null): KeptPlan | null => (id === null ? null : (kept.get(id) ?? null))
  const shelf = {
    fail: null as Error | null,
    writes: 0,
    plans: () => [...kept.values()],
    last: () => find(lastId),
    async read(planId: string | null) {
      await turn()
      const current = find(planId) ?? find(lastId)
      if (current === null) return { current, before: null, noted: [] }
      return { current, before: before.get(current.id) ?? null, noted: notesOn(current.revision, ofPlan(current.id)) }
    },
    async note(note: PlanNote) {
      await turn()
      notes = [...notes.filter(({ id, base }) => id !== note.id || base !== note.base), structuredClone(note)]
    },
    async write({ id, base, document, savedAtMs, history }: Parameters<PlanShelf['write']>[0]) {
      await turn()
      const there = find(id)
      if ((there?.revision ?? 0) !== base) return null
      if (there !== null) before.set(id, there.document)
      // The browser stores a copy; so must this, or a test could not see that data does not survive copying.
      kept.set(id, structuredClone({ id, revision: base + 1, savedAtMs, document, history, awayAtMs: null }))
      notes = notes.filter((note) => note.id !== id || note.base > base)
      lastId = id
      shelf.writes += 1
      return base + 1
    },
    async laid(planId: string) {
      await turn()
      lastId = planId
    },
  }
  return shelf
}

/** Claims of several pages, as locks of the browser give them: one right to each plan. */
export function claimsShared(): { page(): Claims } {
  const plans = new Map<string, () => Claim>()
  return {
    page: () => (planId) => {
      const ofPlan = plans.get(planId) ?? rightShared()
      plans.set(planId, ofPlan)
      return ofPlan()
    },
  }
}

function rightShared(): () => Claim {
  interface Page {
    changed: (isHeld: boolean) => void
  }
  let holder: Page | null = null
  let line: Page[] = []
  return () => {
    const self: Page = { changed: () => undefined }
    return {
      ask(changed) {
        self.changed = changed
        if (holder === null) holder = self
        else line.push(self)
        changed(holder === self)
      },
      take() {
        const old = holder
        holder = self
        line = line.filter((other) => other !== self)
        if (old !== null && old !== self) {
          line.push(old)
          old.changed(false)
        }
        self.changed(true)
      },
      release() {
        line = line.filter((other) => other !== self)
        if (holder !== self) return
        holder = line.shift() ?? null
        holder?.changed(true)
      },
    }
  }
}

/** Word from page to page, heard a moment later. */
export function newsShared(): { page(): ShelfNews } {
  const pages = new Map<object, (planId: string) => void>()
  return {
    page() {
      const self = {}
      return {
        tell: (planId) => pages.forEach((heard, other) => (other === self ? undefined : heard(planId))),
        listen: (heard) => void pages.set(self, heard),
        stop: () => void pages.delete(self),
      }
    },
  }
}
