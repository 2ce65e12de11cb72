import { describe, expect, it } from 'vitest'
import { claimByLocks, planRestore, shelfIdb } from '../../src/store/index.ts'
import { aTrack, planWith } from '../support/plans.ts'
import { shelfContract } from '../support/shelfContract.ts'

let count = 0
const freshName = (): string => `shelf-test-${(count += 1)}-${crypto.randomUUID()}`

describe('the shelf of the browser', () => {
  shelfContract(() => {
    const name = freshName()
    return { open: () => shelfIdb(name) }
  })

  it('drops no plan that was replaced', async () => {
    const shelf = shelfIdb(freshName())
    for (let i = 0; i < 23; i++) await shelf.write(i, planWith({ railway: { title: `plan ${i}` }, tracks: [aTrack()] }), i, true)
    expect((await shelf.asides()).map((aside) => aside.savedAtMs)).toEqual(Array.from({ length: 22 }, (_, i) => 21 - i))
  })

  it('finds all that was kept when it held one plan', async () => {
    const name = freshName()
    const old = await new Promise<IDBDatabase>((resolve, reject) => {
      const request = indexedDB.open(name, 1)
      request.addEventListener('upgradeneeded', () => {
        const plans = request.result.createObjectStore('plans')
        plans.put({ revision: 7, savedAtMs: 70, document: planWith({ railway: { title: 'now' } }) }, 'current')
        plans.put({ revision: 6, savedAtMs: 60, document: planWith({ railway: { title: 'before' } }) }, 'previous')
        const asides = request.result.createObjectStore('asides', { autoIncrement: true })
        asides.add({ savedAtMs: 10, why: 'unreadable', document: 'no plan' })
        asides.add({ savedAtMs: 20, why: 'replaced', document: planWith({ railway: { title: 'replaced' } }) })
      })
      request.addEventListener('success', () => resolve(request.result))
      request.addEventListener('error', () => reject(request.error ?? new Error('not opened')))
    })
    old.close()
    const shelf = shelfIdb(name)
    expect(await planRestore(shelf)).toMatchObject({ revision: 7, plan: { railway: { title: 'now' } } })
    const { deskId, others } = await shelf.plans()
    expect(others).toMatchObject([{ savedAtMs: 20, awayAtMs: null, document: { railway: { title: 'replaced' } } }])
    expect(await shelf.versions(deskId ?? '')).toMatchObject([{ savedAtMs: 60, document: { railway: { title: 'before' } } }])
    expect(await shelf.asides()).toMatchObject([{ why: 'replaced' }, { why: 'unreadable', document: 'no plan' }])
    expect(await shelf.write(7, planWith({ railway: { title: 'next' } }), 80, false)).toBe(8)
  })

  it('takes a plan from the shelf to the desk and back, with its versions', async () => {
    const shelf = shelfIdb(freshName())
    const titled = (title: string) => planWith({ railway: { title } })
    await shelf.write(0, titled('one'), 1, false)
    const first = (await shelf.plans()).deskId ?? ''
    await shelf.write(1, titled('two'), 100_000, true)
    expect((await shelf.plans()).others).toMatchObject([{ id: first, document: { railway: { title: 'one' } } }])
    await shelf.change(first, { document: titled('one renamed'), savedAtMs: 200_000 })
    await shelf.write(2, titled('one renamed'), 300_000, true, undefined, first)
    expect(await shelf.plans()).toMatchObject({ deskId: first, others: [{ document: { railway: { title: 'two' } } }] })
    expect((await shelf.versions(first)).map(({ savedAtMs }) => savedAtMs)).toEqual([200_000, 1])
  })

  it('takes a plan to a desk on which nothing was kept yet: it stands in one place', async () => {
    const shelf = shelfIdb(freshName())
    const id = await shelf.add(planWith({ railway: { title: 'one' } }), 1)
    await shelf.write(0, planWith({ railway: { title: 'one' } }), 2, true, undefined, id)
    expect(await shelf.plans()).toEqual({ deskId: id, others: [] })
  })

  it('gives way to a later version of the app and reports that it is closed', async () => {
    const name = freshName()
    const shelf = shelfIdb(name)
    await shelf.read()
    const later = await new Promise<IDBDatabase>((resolve, reject) => {
      const request = indexedDB.open(name, 3)
      request.addEventListener('success', () => resolve(request.result))
      request.addEventListener('error', () => reject(request.error ?? new Error('not opened')))
      request.addEventListener('blocked', () => reject(new Error('the old connection stays open')))
    })
    await expect(shelf.read()).rejects.toMatchObject({ name: 'VersionError' })
    later.close()
  })
})

describe('the claim by the locks of the browser', () => {
  it('is had by one, waited for, taken, and given back', async () => {
    const name = freshName()
    const pages = ['first', 'second'].map(() => ({ claim: claimByLocks(navigator.locks, name), said: [] as boolean[] }))
    for (const { claim, said } of pages) claim.ask((isHeld) => said.push(isHeld))
    const said = () => pages.map((page) => page.said)
    await expect.poll(said).toEqual([[true], [false]])
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
  })
})
