import { openDB } from 'idb'
import type { DBSchema, IDBPDatabase } from 'idb'
import type { PlanShelf, SetAside, ShelfRecord } from './shelf.ts'

interface ShelfDb extends DBSchema {
  plans: { key: 'current' | 'previous'; value: ShelfRecord }
  asides: { key: number; value: SetAside }
}

/** Replaced plans that are kept; each is some hundred kB at most. Unreadable ones are never dropped by us. */
const replacedLimit = 20

/**
 * The shelf in IndexedDB. The connection is opened when first needed; when a later version of the app wants to change the
 * database, it is closed, so that nobody waits for this page.
 */
export function shelfIdb(name = 'waybench'): PlanShelf {
  let opened: Promise<IDBPDatabase<ShelfDb>> | null = null
  const database = (): Promise<IDBPDatabase<ShelfDb>> => {
    opened ??= open()
    return opened
  }
  const open = async (): Promise<IDBPDatabase<ShelfDb>> => {
    const forget = (): void => {
      opened = null
    }
    try {
      return await openDB<ShelfDb>(name, 1, {
        upgrade(db) {
          db.createObjectStore('plans')
          db.createObjectStore('asides', { autoIncrement: true })
        },
        blocking(_current, _wanted, event) {
          if (event.target instanceof IDBDatabase) event.target.close()
          forget()
        },
        terminated: forget,
      })
    } catch (error) {
      forget()
      throw error
    }
  }
  // strict: the browser reports success only when the data is on the disk and not merely on its way.
  const begin = async () => (await database()).transaction(['plans', 'asides'], 'readwrite', { durability: 'strict' })

  return {
    async read() {
      const plans = (await database()).transaction('plans').store
      const [current, previous] = await Promise.all([plans.get('current'), plans.get('previous')])
      return { current: current ?? null, previous: previous ?? null }
    },
    async write(base, document, savedAtMs, isOther, history) {
      const transaction = await begin()
      const plans = transaction.objectStore('plans')
      const current = await plans.get('current')
      const revision = current?.revision ?? 0
      if (revision !== base) return null
      if (current !== undefined && current.document !== null) {
        await plans.put({ ...current, history: undefined }, 'previous')
        if (isOther) await aside(transaction.objectStore('asides'), current, 'replaced')
      }
      await plans.put({ revision: revision + 1, savedAtMs, document, history }, 'current')
      await transaction.done
      return revision + 1
    },
    async setAside() {
      const transaction = await begin()
      const plans = transaction.objectStore('plans')
      const current = await plans.get('current')
      if (current !== undefined && current.document !== null) await aside(transaction.objectStore('asides'), current, 'unreadable')
      const revision = (current?.revision ?? 0) + 1
      await plans.put({ revision, savedAtMs: current?.savedAtMs ?? 0, document: null }, 'current')
      await transaction.done
      return revision
    },
    async asides() {
      return (await (await database()).getAll('asides')).toReversed()
    },
  }

  async function aside(store: AsideStore, record: ShelfRecord, why: SetAside['why']): Promise<void> {
    await store.add({ savedAtMs: record.savedAtMs, why, document: record.document })
    const replaced: number[] = []
    for (let cursor = await store.openCursor(); cursor !== null; cursor = await cursor.continue()) {
      if (cursor.value.why === 'replaced') replaced.push(cursor.primaryKey)
    }
    for (const key of replaced.slice(0, Math.max(0, replaced.length - replacedLimit))) await store.delete(key)
  }
}

/** The few calls of idb's object store that `aside` makes; its own type would have to name the transaction that it is in. */
interface AsideStore {
  add(value: SetAside): Promise<number>
  delete(key: number): Promise<void>
  openCursor(): Promise<AsideCursor | null>
}
interface AsideCursor {
  readonly primaryKey: number
  readonly value: SetAside
  continue(): Promise<AsideCursor | null>
}
