import { openDB } from 'idb'
import { describe, expect, it, vi } from 'vitest'
import { claimsByLocks, planRestore, plansClaimed, shelfIdb } from '../../src/store/index.ts'
import type { PlanShelf } from '../../src/store/index.ts'
import { picturesIdb } from '../../src/store/pictures.ts'
import { aTrack, planWith } from '../support/plans.ts'
import { shelfContract } from '../support/shelfContract.ts'

let count = 0
const titled = (title: string) => planWith({ railway: { title }, tracks: [aTrack()] })
const history = { undo: [], redo: [] }
const put = (shelf: PlanShelf, id: string, base: number, title: string, savedAtMs: number): Promise<number | null> =>
  shelf.write({ id, base, document: titled(title), savedAtMs, history, isMarked: false })

/** A database as an older version of the app made it. */
async function older(name: string, version: number, fill: (db: IDBDatabase) => void): Promise<void> {
  const db = await new Promise<IDBDatabase>((resolve, reject) => {
    const request = indexedDB.open(name, version)
    request.addEventListener('upgradeneeded', () => fill(request.result))
    request.addEventListener('success', () => resolve(request.result))
    request.addEventListener('error', () => reject(request.error ?? new Error('not opened')))
  })
  db.close()
}

const freshName = (): string => `shelf-test-${(count += 1)}-${crypto.randomUUID()}`

describe('the shelf of the browser', () => {
  shelfContract(() => {
    const name = freshName()
    return { open: () => shelfIdb(name) }
  })

  it('has the first write of a plan and each note out of the page’s hands before anything else can run', async () => {
    const shelf = shelfIdb(freshName())
    await shelf.read(null)
    const commit = vi.spyOn(IDBTransaction.prototype, 'commit')
    const inOneBreath = async (job: () => Promise<unknown>): Promise<number> => {
      commit.mockClear()
      const done = job()
      // Microtasks alone: a page does not die between them.
      for (let turn = 0; turn < 50; turn++) await Promise.resolve()
      const commits = commit.mock.calls.length
      await done
      return commits
    }
    const patch = { railway: { before: titled('Quay').railway, after: titled('Pier').railway }, records: [] }
    expect(await inOneBreath(() => put(shelf, 'quay', 0, 'Quay', 10))).toBe(1)
    expect(await inOneBreath(() => shelf.note({ id: 'quay', base: 1, patch }))).toBe(1)
    commit.mockRestore()
    expect(await shelf.read(null)).toMatchObject({ current: { id: 'quay', revision: 1 }, noted: [patch] })
  })

  it('finds all that was kept when it held one plan', async () => {
    const name = freshName()
    await older(name, 1, (db) => {
      const plans = db.createObjectStore('plans')
      plans.put({ revision: 7, savedAtMs: 70, document: titled('now') }, 'current')
      plans.put({ revision: 6, savedAtMs: 60, document: titled('before') }, 'previous')
      const asides = db.createObjectStore('asides', { autoIncrement: true })
      asides.add({ savedAtMs: 10, why: 'unreadable', document: 'no plan' })
      asides.add({ savedAtMs: 20, why: 'replaced', document: titled('replaced') })
    })
    const shelf = shelfIdb(name)
    const restored = await planRestore(shelf)
    expect(restored).toMatchObject({ revision: 7, plan: { railway: { title: 'now' } } })
    expect(await shelf.plans()).toMatchObject([
      { savedAtMs: 70, id: restored.planId },
      { savedAtMs: 20, awayAtMs: null, document: { railway: { title: 'replaced' } } },
      { savedAtMs: 10, awayAtMs: null, document: 'no plan' },
    ])
    expect(await shelf.versions(restored.planId)).toMatchObject([{ savedAtMs: 60, document: { railway: { title: 'before' } } }])
    expect(await put(shelf, restored.planId, 7, 'next', 80)).toBe(8)
  })

  it('finds all that was kept when one page wrote for all plans', async () => {
    const name = freshName()
    await older(name, 2, (db) => {
      const plans = db.createObjectStore('plans')
      plans.put({ revision: 7, savedAtMs: 70, document: titled('now'), planId: 'quay', history: { undo: [], redo: [] } }, 'current')
      plans.put({ revision: 6, savedAtMs: 60, document: titled('before'), planId: 'quay' }, 'previous')
      db.createObjectStore('asides', { autoIncrement: true }).add({ savedAtMs: 10, why: 'unreadable', document: 'no plan' })
      const shelved = db.createObjectStore('shelved', { keyPath: 'id' })
      shelved.put({ id: 'pier', savedAtMs: 50, document: titled('other'), awayAtMs: null })
      shelved.put({ id: 'mole', savedAtMs: 40, document: titled('put away'), awayAtMs: 45 })
      const versions = db.createObjectStore('versions', { autoIncrement: true })
      versions.createIndex('byPlan', ['planId', 'savedAtMs'])
      versions.add({ planId: 'pier', savedAtMs: 30, document: titled('other once') })
    })
    const shelf = shelfIdb(name)
    expect(await shelf.read(null)).toMatchObject({ current: { id: 'quay', revision: 7, savedAtMs: 70 }, before: titled('before') })
    expect((await shelf.plans()).map(({ id, awayAtMs }) => [id, awayAtMs])).toEqual([
      ['quay', null],
      ['pier', null],
      ['mole', 45],
      ['aside-1', null],
    ])
    expect(await shelf.versions('pier')).toMatchObject([{ savedAtMs: 30 }])
  })

  it('makes a version of what is changed on the shelf, and its page is late', async () => {
    const shelf = shelfIdb(freshName())
    await put(shelf, 'quay', 0, 'one', 1)
    await shelf.change('quay', { document: titled('one renamed'), savedAtMs: 200_000 })
    expect(await put(shelf, 'quay', 1, 'late', 300_000)).toBeNull()
    expect(await shelf.read('quay')).toMatchObject({ current: { document: titled('one renamed'), revision: 2 }, before: titled('one') })
    expect((await shelf.versions('quay')).map(({ savedAtMs }) => savedAtMs)).toEqual([1])
  })

  it('makes one version of a burst, and one more when it is marked', async () => {
    const shelf = shelfIdb(freshName())
    for (let n = 0; n < 5; n++) await put(shelf, 'quay', n, `step ${n}`, 1000 * n)
    expect((await shelf.versions('quay')).map(({ savedAtMs }) => savedAtMs)).toEqual([0])
    await shelf.write({ id: 'quay', base: 5, document: titled('marked'), savedAtMs: 6000, history, isMarked: true })
    expect((await shelf.versions('quay')).map(({ savedAtMs }) => savedAtMs)).toEqual([4000, 0])
  })

  it('opens no plan that was put away, and throws none away that was not', async () => {
    const shelf = shelfIdb(freshName())
    await put(shelf, 'quay', 0, 'one', 1)
    await put(shelf, 'pier', 0, 'two', 2)
    await shelf.remove('pier')
    await shelf.change('pier', { awayAtMs: 3 })
    expect((await shelf.read('pier')).current?.id).toBe('quay')
    await shelf.change('pier', { document: titled('two again'), savedAtMs: 4 })
    await shelf.remove('pier')
    expect((await shelf.plans()).map(({ id }) => id)).toEqual(['quay'])
    expect(await shelf.versions('pier')).toEqual([])
  })

  it('makes one version of a burst after the clock was put back', async () => {
    const shelf = shelfIdb(freshName())
    const hourMs = 3_600_000
    for (const [base, savedAtMs] of [5 * hourMs, 5 * hourMs + 1000].entries()) await put(shelf, 'quay', base, 'before', savedAtMs)
    for (let n = 0; n < 6; n++) await put(shelf, 'quay', 2 + n, `step ${n}`, hourMs + 1000 * n)
    expect((await shelf.versions('quay')).map(({ savedAtMs }) => savedAtMs)).toEqual([5 * hourMs, hourMs])
  })

  it('is written anew after the database was thrown away under it', async () => {
    const name = freshName()
    const [shelf, pictures] = [shelfIdb(name), picturesIdb(`${name}-pictures`)]
    await put(shelf, 'quay', 0, 'one', 1)
    const key = await pictures.keep(new Blob(['picture']))
    for (const database of [name, `${name}-pictures`]) {
      await new Promise<void>((resolve, reject) => {
        const request = indexedDB.deleteDatabase(database)
        request.addEventListener('success', () => resolve())
        request.addEventListener('blocked', () => reject(new Error('the connection stays open')))
      })
    }
    expect(await put(shelf, 'quay', 1, 'two', 2)).toBeNull()
    expect(await put(shelf, 'quay', 0, 'two', 2)).toBe(1)
    expect(await pictures.read(key)).toBeNull()
    await pictures.keep(new Blob(['picture']))
    expect(await (await pictures.read(key))?.text()).toBe('picture')
  })

  it('gives up a write that is held up for ever, and the next one goes through', async () => {
    const name = freshName()
    const shelf = shelfIdb(name, 300)
    await put(shelf, 'quay', 0, 'one', 1)
    // Another page does not let go of the stores.
    const hand = { isHeld: true }
    const other = await openDB(name)
    const hold = other.transaction('kept', 'readwrite')
    const spin = async (): Promise<void> => {
      while (hand.isHeld) await hold.store.count()
    }
    const held = spin()
    await expect(put(shelf, 'quay', 1, 'two', 2)).rejects.toMatchObject({ name: 'UnknownError' })
    hand.isHeld = false
    await held
    expect(await put(shelf, 'quay', 1, 'two', 3)).toBe(2)
    other.close()
  })

  it('says so when the browser does not open its storage, and opens it when it does', async () => {
    const name = freshName()
    const shelf = shelfIdb(name)
    const ask = indexedDB.open.bind(indexedDB)
    // A request of which nothing is ever heard.
    const open = vi
      .spyOn(IDBFactory.prototype, 'open')
      .mockImplementation((...asked) => Object.assign(ask(`${asked[0]}-unheard`), { addEventListener: () => undefined }))
    vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout'] })
    const restored = planRestore(shelf)
    await vi.advanceTimersByTimeAsync(9000)
    vi.useRealTimers()
    open.mockRestore()
    expect(await restored).toMatchObject({ plan: null, failed: { reason: 'other' } })
    expect(await put(shelf, 'quay', 0, 'one', 1)).toBe(1)
  })

  it('gives way to a later version of the app and reports that it is closed', async () => {
    const name = freshName()
    const shelf = shelfIdb(name)
    await shelf.read(null)
    const later = await new Promise<IDBDatabase>((resolve, reject) => {
      const request = indexedDB.open(name, 4)
      request.addEventListener('success', () => resolve(request.result))
      request.addEventListener('error', () => reject(request.error ?? new Error('not opened')))
      request.addEventListener('blocked', () => reject(new Error('the old connection stays open')))
    })
    await expect(shelf.read(null)).rejects.toMatchObject({ name: 'VersionError' })
    later.close()
  })
})

describe('the claim by the locks of the browser', () => {
  it('is had by one, waited for, taken, and given back', async () => {
    const name = freshName()
    const pages = ['first', 'second'].map(() => ({ claim: claimsByLocks(navigator.locks)(name), said: [] as boolean[] }))
    for (const { claim, said } of pages) claim.ask((isHeld) => said.push(isHeld))
    const said = () => pages.map((page) => page.said)
    await expect.poll(said).toEqual([[true], [false]])
    expect([...(await plansClaimed(navigator.locks))]).toContain(name)
    pages[1]?.claim.take()
    await expect.poll(said).toEqual([
      [true, false],
      [false, true],
    ])
    pages[1]?.claim.release()
    await expect.poll(said).toEqual([
      [true, false, true],
      [false, true],
    ])
    pages[0]?.claim.release()
    await expect.poll(async () => (await plansClaimed(navigator.locks)).has(name)).toBe(false)
  })
})
