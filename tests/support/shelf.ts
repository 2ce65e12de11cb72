import type { Claim } from '../../src/store/claim.ts'
import type { ShelfNews } from '../../src/store/news.ts'
import type { PlanShelf, SetAside, ShelfRecord } from '../../src/store/shelf.ts'

/** A shelf in memory with the contract of the real one; `fail` makes every call reject until it is set back to null. */
export function shelfInMemory(): PlanShelf & { fail: Error | null; writes: number; current(): ShelfRecord | null } {
  let current: ShelfRecord | null = null
  let previous: ShelfRecord | null = null
  const asides: SetAside[] = []
  const shelf = {
    fail: null as Error | null,
    writes: 0,
    current: () => current,
    async read() {
      await turn()
      return { current, previous }
    },
    async write(base: number, document: unknown, savedAtMs: number, isOther: boolean, history?: unknown, planId?: string) {
      await turn()
      if ((current?.revision ?? 0) !== base) return null
      const deskId = current?.planId ?? planId ?? 'first'
      const id = isOther ? (planId ?? `plan-${base}`) : deskId
      if (current !== null && current.document !== null) {
        previous = { ...current, history: undefined }
        if (id !== deskId) asides.unshift({ savedAtMs: current.savedAtMs, why: 'replaced', document: current.document })
      }
      // The browser stores a copy; so must this, or a test could not see that data does not survive copying.
      current = { revision: base + 1, savedAtMs, document: structuredClone(document), history: structuredClone(history), planId: id }
      shelf.writes += 1
      return base + 1
    },
    async setAside() {
      await turn()
      if (current !== null && current.document !== null)
        asides.unshift({ savedAtMs: current.savedAtMs, why: 'unreadable', document: current.document })
      current = {
        revision: (current?.revision ?? 0) + 1,
        savedAtMs: current?.savedAtMs ?? 0,
        document: null,
        planId: current?.planId ?? 'first',
      }
      return current.revision
    },
    async asides() {
      await turn()
      return asides
    },
  }
  const turn = async (): Promise<void> => {
    await Promise.resolve()
    if (shelf.fail !== null) throw shelf.fail
  }
  return shelf
}

/** Claims of several pages on one right, as locks of the browser give it. */
export function claimsShared(): { page(): Claim } {
  interface Page {
    changed: (isHeld: boolean) => void
  }
  let holder: Page | null = null
  let line: Page[] = []
  return {
    page() {
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
    },
  }
}

/** Word from page to page, heard a moment later. */
export function newsShared(): { page(): ShelfNews } {
  const pages = new Map<object, () => void>()
  return {
    page() {
      const self = {}
      return {
        tell: () => pages.forEach((heard, other) => (other === self ? undefined : heard())),
        listen: (heard) => void pages.set(self, heard),
        stop: () => void pages.delete(self),
      }
    },
  }
}
