import type { IDBPTransaction, StoreNames } from 'idb'
import { dbOpener } from './dbOpener.ts'
import { notesOn, planIdNew } from './shelf.ts'
import type { KeptPlan, PlanLibrary, PlanShelf } from './shelf.ts'
import { shelfUpgrade } from './shelfDb.ts'
import type { ShelfDb } from './shelfDb.ts'
import { versionEveryMs, versionsToDrop } from './versions.ts'

type Stores = StoreNames<ShelfDb>[]
const all: Stores = ['kept', 'before', 'versions', 'notes', 'last']
type Writing = IDBPTransaction<ShelfDb, Stores, 'readwrite'>

/** No write takes as long; one that does holds up everything behind it, and is given up. */
const longestWriteMs = 30_000

/** The shelf in IndexedDB. `longestMs`: how long a write may take. */
export function shelfIdb(name = 'waybench', longestMs = longestWriteMs): PlanShelf & PlanLibrary {
  const database = dbOpener<ShelfDb>(name, 3, (db, from, _to, transaction) => shelfUpgrade(db, from, transaction))
  /** All that `job` writes, or nothing of it. strict: the browser reports success only when the data is on the disk. */
  const written = async <T>(job: (transaction: Writing) => Promise<T>): Promise<T> => {
    const transaction = (await database()).transaction(all, 'readwrite', { durability: 'strict' })
    const done = transaction.done.catch((error: unknown) => {
      // A request that was under way when the browser gave up says only that; the transaction knows why.
      throw transaction.error ?? error
    })
    // Of a transaction that finds no room not every request is answered.
    const broken = new Promise<never>((_resolve, reject) => void done.catch(reject))
    let isTooLong = false
    const watch = setTimeout(() => {
      isTooLong = true
      transaction.abort()
    }, longestMs)
    try {
      const result = await Promise.race([job(transaction), broken])
      await done
      return result
    } catch (error) {
      // Of the two the one that says more than that it was broken off.
      await done.catch((why: unknown) => {
        if (isTooLong) throw new DOMException('the browser does not answer', 'UnknownError')
        throw isNamed(why, 'AbortError') ? error : why
      })
      throw error
    } finally {
      clearTimeout(watch)
    }
  }
  /**
   * The first write of a plan; null: it is there already. As with a note nothing is asked first and nothing waited for, so that not even
   * its first step is lost with a page that dies.
   */
  const addedAtOnce = (plan: KeptPlan): Promise<number | null> =>
    written(async (transaction) => {
      const asked = [transaction.objectStore('kept').add(plan), transaction.objectStore('last').put(plan.id, 'last')]
      transaction.commit()
      await Promise.all(asked)
      return plan.revision
    }).catch((error: unknown) => {
      if (isNamed(error, 'ConstraintError')) return null
      throw error
    })

  return {
    async read(planId) {
      const transaction = (await database()).transaction(['kept', 'before', 'notes', 'last'])
      const kept = transaction.objectStore('kept')
      const standing = async (id: string | null | undefined): Promise<KeptPlan | null> => {
        const plan = id === null || id === undefined ? undefined : await kept.get(id)
        return plan === undefined || plan.awayAtMs !== null ? null : plan
      }
      const current =
        (await standing(planId)) ?? (await standing(await transaction.objectStore('last').get('last'))) ?? latestOf(await kept.getAll())
      if (current === null) return { current, before: null, noted: [] }
      const before = await transaction.objectStore('before').get(current.id)
      const notes = await transaction.objectStore('notes').getAll(ofPlan(current.id))
      return { current, before: before?.document ?? null, noted: notesOn(current.revision, notes) }
    },
    async note(note) {
      // Nothing is asked first and nothing waited for: all of it is out of the page's hands in the same breath.
      const transaction = (await database()).transaction('notes', 'readwrite')
      const done = transaction.done
      const put = transaction.store.put(note)
      transaction.commit()
      await Promise.all([put, done])
    },
    write({ id, base, document, savedAtMs, history, isMarked }) {
      const next: KeptPlan = { id, revision: base + 1, savedAtMs, document, history, awayAtMs: null }
      if (base === 0) return addedAtOnce(next)
      return written(async (transaction) => {
        const kept = transaction.objectStore('kept')
        const current = await kept.get(id)
        if (current?.revision !== base) return null
        await beforeKeep(transaction, current, savedAtMs, isMarked)
        await kept.put(next)
        await transaction.objectStore('notes').delete(IDBKeyRange.bound([id, -Infinity], [id, base]))
        await transaction.objectStore('last').put(id, 'last')
        return next.revision
      })
    },
    laid: (planId) => written(async (transaction) => void (await transaction.objectStore('last').put(planId, 'last'))),
    async plans() {
      return (await (await database()).getAll('kept')).toSorted((a, b) => b.savedAtMs - a.savedAtMs)
    },
    async versions(planId) {
      return (await (await database()).getAllFromIndex('versions', 'byPlan', ofPlan(planId))).toReversed()
    },
    add: (document, savedAtMs) =>
      written(async (transaction) => {
        const id = planIdNew()
        await transaction.objectStore('kept').add({ id, revision: 1, savedAtMs, document, awayAtMs: null })
        return id
      }),
    change: (id, change) =>
      written(async (transaction) => {
        const kept = transaction.objectStore('kept')
        const current = await kept.get(id)
        if (current === undefined) return
        const { document, ...others } = change
        if (document === undefined) await kept.put({ ...current, ...others })
        else {
          await beforeKeep(transaction, current, change.savedAtMs ?? current.savedAtMs, true)
          // The steps that led to the old document do not lead to the new one.
          await kept.put({ ...current, ...others, document, history: undefined, revision: current.revision + 1 })
        }
      }),
    remove: (id) =>
      written(async (transaction) => {
        const plan = await transaction.objectStore('kept').get(id)
        if (plan === undefined || plan.awayAtMs === null) return
        const versions = transaction.objectStore('versions')
        for (const key of await versions.index('byPlan').getAllKeys(ofPlan(id))) await versions.delete(key)
        await transaction.objectStore('notes').delete(ofPlan(id))
        for (const store of ['before', 'kept'] as const) await transaction.objectStore(store).delete(id)
      }),
  }
}

const isNamed = (error: unknown, name: string): boolean => error instanceof DOMException && error.name === name

const ofPlan = (planId: string): IDBKeyRange => IDBKeyRange.bound([planId, -Infinity], [planId, Infinity])

function latestOf(plans: readonly KeptPlan[]): KeptPlan | null {
  const standing = plans.filter(({ awayAtMs }) => awayAtMs === null)
  return standing.toSorted((a, b) => b.savedAtMs - a.savedAtMs)[0] ?? null
}

/** Keeps what a plan was, and lets go of versions that need not stand so close. */
async function beforeKeep(transaction: Writing, { id, document, savedAtMs }: KeptPlan, nowMs: number, isMarked: boolean): Promise<void> {
  await transaction.objectStore('before').put({ id, document })
  const store = transaction.objectStore('versions')
  const index = store.index('byPlan')
  // One of a later time is from before the clock was put back: it does not stand for what is done now.
  const newest = await index.openKeyCursor(IDBKeyRange.bound([id, -Infinity], [id, savedAtMs]), 'prev')
  if (!isMarked && newest !== null && savedAtMs - newest.key[1] < versionEveryMs) return
  await store.add({ planId: id, savedAtMs, document })
  const keys = new Map<number, number[]>()
  for (let cursor = await index.openKeyCursor(ofPlan(id)); cursor !== null; cursor = await cursor.continue()) {
    keys.set(cursor.key[1], [...(keys.get(cursor.key[1]) ?? []), cursor.primaryKey])
  }
  for (const timeMs of versionsToDrop([...keys.keys()], nowMs)) {
    for (const key of keys.get(timeMs) ?? []) await store.delete(key)
  }
}
