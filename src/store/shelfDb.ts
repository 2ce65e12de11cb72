import type { DBSchema, IDBPDatabase, IDBPTransaction, StoreNames } from 'idb'
import type { KeptPlan, PlanNote, PlanVersion } from './shelf.ts'

export interface ShelfDb extends DBSchema {
  kept: { key: string; value: KeptPlan }
  /** What each plan was before its last write. */
  before: { key: string; value: { readonly id: string; readonly document: unknown } }
  versions: { key: number; value: PlanVersion; indexes: { byPlan: [string, number] } }
  notes: { key: [string, number]; value: PlanNote }
  /** Which plan was last at work. */
  last: { key: 'last'; value: string }
}

/** A plan of before the shelf held several has no name yet. */
const firstId = 'first'

interface OldRecord {
  readonly revision: number
  readonly savedAtMs: number
  readonly document: unknown
  readonly planId?: string
  readonly history?: unknown
}

/**
 * Makes the database, or makes what an older one held into it. Nothing is dropped: what lay on the one desk (version 1 and 2), on the
 * shelf (2) and what was set aside are plans of the shelf.
 */
export async function shelfUpgrade(
  db: IDBPDatabase<ShelfDb>,
  from: number,
  transaction: IDBPTransaction<ShelfDb, StoreNames<ShelfDb>[], 'versionchange'>,
): Promise<void> {
  const kept = db.createObjectStore('kept', { keyPath: 'id' })
  const before = db.createObjectStore('before', { keyPath: 'id' })
  const last = db.createObjectStore('last')
  db.createObjectStore('notes', { keyPath: ['id', 'base'] })
  if (from < 2) db.createObjectStore('versions', { autoIncrement: true }).createIndex('byPlan', ['planId', 'savedAtMs'])
  if (from === 0) return

  // What stood there has no type any more.
  const [oldDb, old] = [db as unknown as IDBPDatabase, transaction as unknown as IDBPTransaction<unknown, string[], 'versionchange'>]
  const plans = old.objectStore('plans')
  const current = (await plans.get('current')) as OldRecord | undefined
  const previous = (await plans.get('previous')) as OldRecord | undefined
  if (from === 2) for (const plan of (await old.objectStore('shelved').getAll()) as KeptPlan[]) await kept.put({ ...plan, revision: 1 })
  const asides = old.objectStore('asides')
  for (const key of await asides.getAllKeys()) {
    const { savedAtMs, document } = (await asides.get(key)) as OldRecord
    await kept.put({ id: `aside-${Number(key)}`, revision: 1, savedAtMs, document, awayAtMs: null })
  }
  if (previous !== undefined && previous.document !== null) {
    const planId = previous.planId ?? firstId
    await before.put({ id: planId, document: previous.document })
    if (from === 1) await transaction.objectStore('versions').add({ planId, savedAtMs: previous.savedAtMs, document: previous.document })
  }
  if (current !== undefined && current.document !== null) {
    const { revision, savedAtMs, document, history, planId: id = firstId } = current
    await kept.put({ id, revision, savedAtMs, document, history, awayAtMs: null })
    await last.put(id, 'last')
  }
  for (const name of from === 2 ? ['plans', 'asides', 'shelved'] : ['plans', 'asides']) oldDb.deleteObjectStore(name)
}
