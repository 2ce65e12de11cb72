import { describe, expect, it } from 'vitest'
import { claimByLocks, shelfIdb } from '../../src/store/index.ts'
import { aTrack, planWith } from '../support/plans.ts'
import { shelfContract } from '../support/shelfContract.ts'

let count = 0
const freshName = (): string => `shelf-test-${(count += 1)}-${crypto.randomUUID()}`

describe('the shelf of the browser', () => {
  shelfContract(() => {
    const name = freshName()
    return { open: () => shelfIdb(name) }
  })

  it('keeps the twenty last plans that were replaced', async () => {
    const shelf = shelfIdb(freshName())
    for (let i = 0; i < 23; i++) await shelf.write(i, planWith({ railway: { title: `plan ${i}` }, tracks: [aTrack()] }), i, true)
    expect((await shelf.asides()).map((aside) => aside.savedAtMs)).toEqual(Array.from({ length: 20 }, (_, i) => 21 - i))
  })

  it('gives way to a later version of the app and reports that it is closed', async () => {
    const name = freshName()
    const shelf = shelfIdb(name)
    await shelf.read()
    const later = await new Promise<IDBDatabase>((resolve, reject) => {
      const request = indexedDB.open(name, 2)
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
