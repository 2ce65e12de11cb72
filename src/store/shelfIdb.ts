import { openDB } from 'idb'
import type { DBSchema, IDBPDatabase, IDBPTransaction, StoreNames } from 'idb'
import { planIdNew } from './shelf.ts'
import type { PlanLibrary, PlanShelf, PlanVersion, SetAside, ShelfRecord, ShelvedPlan } from './shelf.ts'
import { versionEveryMs, versionsToDrop } from './versions.ts'

interface ShelfDb extends DBSchema {
  plans: { key: 'current' | 'previous'; value: ShelfRecord }
  asides: { key: number; value: SetAside }
  shelved: { key: string; value: ShelvedPlan }
  versions: { key: number; value: PlanVersion; indexes: { byPlan: [string, number] } }
}

type Stores = ['plans', 'asides', 'shelved', 'versions']
const all: Stores = ['plans', 'asides', 'shelved', 'versions']
type Writing = IDBPTransaction<ShelfDb, Stores, 'readwrite'>
type Upgrading = IDBPTransaction<ShelfDb, StoreNames<ShelfDb>[], 'versionchange'>

/** The desk's plan of before the shelf held several. */
const firstId = 'first'

/**
 * The shelf in IndexedDB. The connection is opened when first needed; when a later version of the app wants to change the
 * database, it is closed, so that nobody waits for this page.
 */
export function shelfIdb(name = 'waybench'): PlanShelf & PlanLibrary {
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
      return await openDB<ShelfDb>(name, 2, {
        async upgrade(db, from, _to, transaction) {
          if (from < 1) {
            db.createObjectStore('plans')
            db.createObjectStore('asides', { autoIncrement: true })
          }
          db.createObjectStore('shelved', { keyPath: 'id' })
          db.createObjectStore('versions', { autoIncrement: true }).createIndex('byPlan', ['planId', 'savedAtMs'])
          if (from === 1) await severalFromOne(transaction)
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
  const begin = async () => (await database()).transaction(all, 'readwrite', { durability: 'strict' })

  return {
    async read() {
      const plans = (await database()).transaction('plans').store
      const [current, previous] = await Promise.all([plans.get('current'), plans.get('previous')])
      return { current: current ?? null, previous: previous ?? null }
    },
    async write(base, document, savedAtMs, isOther, history, planId) {
      const transaction = await begin()
      const plans = transaction.objectStore('plans')
      const current = await plans.get('current')
      const revision = current?.revision ?? 0
      if (revision !== base) return null
      const deskId = current?.planId ?? planId ?? planIdNew()
      const id = isOther ? (planId ?? planIdNew()) : deskId
      if (current !== undefined && current.document !== null) {
        await plans.put({ ...current, history: undefined }, 'previous')
        const { document: before, savedAtMs: atMs } = current
        if (id === deskId) await versionAdd(transaction, { planId: id, savedAtMs: atMs, document: before }, savedAtMs, isOther)
        else await transaction.objectStore('shelved').put({ id: deskId, savedAtMs: atMs, document: before, awayAtMs: null })
      }
      if (isOther) await takeOff(transaction, id, savedAtMs)
      await plans.put({ revision: revision + 1, savedAtMs, document, history, planId: id }, 'current')
      await transaction.done
      return revision + 1
    },
    async setAside() {
      const transaction = await begin()
      const plans = transaction.objectStore('plans')
      const current = await plans.get('current')
      if (current !== undefined && current.document !== null)
        await transaction.objectStore('asides').add({ savedAtMs: current.savedAtMs, why: 'unreadable', document: current.document })
      const revision = (current?.revision ?? 0) + 1
      await plans.put({ revision, savedAtMs: current?.savedAtMs ?? 0, document: null, planId: current?.planId ?? planIdNew() }, 'current')
      await transaction.done
      return revision
    },
    async asides() {
      const db = await database()
      const [asides, shelved] = await Promise.all([db.getAll('asides'), db.getAll('shelved')])
      const replaced = shelved.filter(({ awayAtMs }) => awayAtMs === null)
      return [...asides, ...replaced.map(({ savedAtMs, document }): SetAside => ({ savedAtMs, why: 'replaced', document }))].toSorted(
        (a, b) => b.savedAtMs - a.savedAtMs,
      )
    },
    async plans() {
      const db = await database()
      const [current, others] = await Promise.all([db.get('plans', 'current'), db.getAll('shelved')])
      return { deskId: current?.planId ?? null, others: others.toSorted((a, b) => b.savedAtMs - a.savedAtMs) }
    },
    async versions(planId) {
      return (await (await database()).getAllFromIndex('versions', 'byPlan', ofPlan(planId))).toReversed()
    },
    async add(document, savedAtMs) {
      const transaction = await begin()
      const id = planIdNew()
      await transaction.objectStore('shelved').add({ id, savedAtMs, document, awayAtMs: null })
      await transaction.done
      return id
    },
    async change(id, change) {
      const transaction = await begin()
      const shelved = transaction.objectStore('shelved')
      const before = await shelved.get(id)
      if (before !== undefined) {
        if (change.document !== undefined) {
          const { savedAtMs, document } = before
          await versionAdd(transaction, { planId: id, savedAtMs, document }, change.savedAtMs ?? savedAtMs, true)
        }
        await shelved.put({ ...before, ...change })
      }
      await transaction.done
    },
  }
}

const ofPlan = (planId: string): IDBKeyRange => IDBKeyRange.bound([planId, -Infinity], [planId, Infinity])

/** What was one place with plans set aside becomes a shelf of plans. Nothing is dropped. */
async function severalFromOne(transaction: Upgrading): Promise<void> {
  const plans = transaction.objectStore('plans')
  const current = await plans.get('current')
  if (current !== undefined) await plans.put({ ...current, planId: firstId }, 'current')
  const previous = await plans.get('previous')
  if (previous !== undefined && previous.document !== null) {
    await transaction.objectStore('versions').add({ planId: firstId, savedAtMs: previous.savedAtMs, document: previous.document })
  }
  let cursor = await transaction.objectStore('asides').openCursor()
  for (; cursor !== null; cursor = await cursor.continue()) {
    const { why, savedAtMs, document } = cursor.value
    if (why !== 'replaced') continue
    await transaction.objectStore('shelved').put({ id: `aside-${cursor.primaryKey}`, savedAtMs, document, awayAtMs: null })
    await cursor.delete()
  }
}

/** Keeps what a plan was, and lets go of what need not be kept so close. */
async function versionAdd(transaction: Writing, version: PlanVersion, nowMs: number, isAsked: boolean): Promise<void> {
  const store = transaction.objectStore('versions')
  const index = store.index('byPlan')
  const newest = await index.openKeyCursor(ofPlan(version.planId), 'prev')
  if (!isAsked && newest !== null && Math.abs(version.savedAtMs - newest.key[1]) < versionEveryMs) return
  await store.add(version)
  const keys = new Map<number, number[]>()
  for (let cursor = await index.openKeyCursor(ofPlan(version.planId)); cursor !== null; cursor = await cursor.continue()) {
    keys.set(cursor.key[1], [...(keys.get(cursor.key[1]) ?? []), cursor.primaryKey])
  }
  for (const timeMs of versionsToDrop([...keys.keys()], nowMs)) {
    for (const key of keys.get(timeMs) ?? []) await store.delete(key)
  }
}

/** A plan goes from the shelf to the desk; how it lay there is its last version. */
async function takeOff(transaction: Writing, id: string, nowMs: number): Promise<void> {
  const shelved = transaction.objectStore('shelved')
  const before = await shelved.get(id)
  if (before === undefined) return
  await versionAdd(transaction, { planId: id, savedAtMs: before.savedAtMs, document: before.document }, nowMs, true)
  await shelved.delete(id)
}
