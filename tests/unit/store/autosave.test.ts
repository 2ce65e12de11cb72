import { describe, expect, it } from 'vitest'
import type { PlanCommand } from '../../../src/core/edit/index.ts'
import { planEmpty, planVersion } from '../../../src/core/plan/index.ts'
import type { Plan } from '../../../src/core/plan/index.ts'
import { autosaveStart, claimAlways, planRestore, planStoreCreate } from '../../../src/store/index.ts'
import type { Claim, PlanShelf } from '../../../src/store/index.ts'
import type { ShelfNews } from '../../../src/store/news.ts'
import { claimsShared, newsShared, shelfInMemory } from '../../support/shelf.ts'
import { timingByHand } from '../../support/timing.ts'
import { aTrack, aTurnout, planWith } from '../../support/plans.ts'

const demo = planWith({ tracks: [aTrack()], turnouts: [aTurnout()] })
const moveTo = (stationMm: number): PlanCommand => ({ kind: 'turnout.set', id: 'turnout-1', change: { stationMm } })
const stationOf = (document: unknown) => (document as Plan | null)?.turnouts['turnout-1']?.stationMm

/** A page of the app on a shelf: what was left there, or the demo. */
async function page(shelf: PlanShelf, claim: Claim = claimAlways(), news?: ShelfNews) {
  const timing = timingByHand()
  const restored = await planRestore(shelf)
  const planStore = planStoreCreate(restored.plan ?? demo)
  const autosave = autosaveStart({
    planStore,
    shelf,
    restored,
    claim,
    timing,
    clock: () => 1_000_000 + timing.now(),
    ...(news && { news }),
  })
  await autosave.flush()
  return {
    restored,
    autosave,
    edit: () => planStore.getState(),
    status: () => autosave.status.getState(),
    /** Lets time pass and what it starts come to its end. */
    async wait(ms: number) {
      timing.pass(ms)
      await settle()
    },
  }
}

/** Lets every promise that is under way come to its end. */
const settle = (): Promise<void> =>
  new Promise((resolve) => {
    setImmediate(resolve)
  })

describe('keeping the plan', () => {
  it('writes nothing as long as nothing changed', async () => {
    const shelf = shelfInMemory()
    const { status, wait } = await page(shelf)
    await wait(1000)
    expect([status(), shelf.writes]).toEqual([{ kind: 'fresh' }, 0])
  })

  it('writes a change within 300 ms and gives it back to the next page', async () => {
    const shelf = shelfInMemory()
    const first = await page(shelf)
    first.edit().apply(moveTo(700))
    expect(first.status()).toEqual({ kind: 'waiting' })
    await first.wait(300)
    expect(first.status()).toEqual({ kind: 'kept', atMs: 1_000_300 })
    const second = await page(shelf)
    expect(second.edit().plan).toEqual(first.edit().plan)
    expect(second.status()).toEqual({ kind: 'kept', atMs: 1_000_300 })
  })

  it('makes one write of a burst, and does not let a steady stream of changes put it off', async () => {
    const shelf = shelfInMemory()
    const { edit, wait } = await page(shelf)
    for (let i = 1; i <= 10; i++) {
      edit().apply(moveTo(500 + i))
      await wait(50)
    }
    await wait(300)
    expect(shelf.writes).toBeGreaterThanOrEqual(2)
    expect(shelf.writes).toBeLessThanOrEqual(4)
    expect(stationOf(shelf.current()?.document)).toBe(510)
  })

  it('does not write an open drag, but its end', async () => {
    const shelf = shelfInMemory()
    const { edit, wait } = await page(shelf)
    edit().begin('Drag')
    edit().replace(moveTo(900))
    await wait(1000)
    expect(shelf.writes).toBe(0)
    edit().commit()
    await wait(300)
    expect(stationOf(shelf.current()?.document)).toBe(900)
  })

  it('writes at once when flushed, as on leaving the page', async () => {
    const shelf = shelfInMemory()
    const { edit, autosave } = await page(shelf)
    edit().apply(moveTo(700))
    await autosave.flush()
    expect(stationOf(shelf.current()?.document)).toBe(700)
  })

  it('writes an undo like any change', async () => {
    const shelf = shelfInMemory()
    const { edit, wait } = await page(shelf)
    edit().apply(moveTo(700))
    await wait(300)
    edit().undo()
    await wait(300)
    expect(stationOf(shelf.current()?.document)).toBe(500)
    expect(await shelf.asides()).toEqual([])
  })

  it('keeps the version before the last, and sets a plan aside that another plan replaces', async () => {
    const shelf = shelfInMemory()
    const { edit, wait } = await page(shelf)
    for (const stationMm of [600, 700]) {
      edit().apply(moveTo(stationMm))
      await wait(300)
    }
    expect(stationOf((await shelf.read()).previous?.document)).toBe(600)
    edit().load(planEmpty())
    await wait(300)
    expect((await shelf.asides()).map(({ why, document }) => [why, stationOf(document)])).toEqual([['replaced', 700]])
    edit().apply({ kind: 'railway.set', change: { title: 'Quay' } })
    await wait(300)
    expect(await shelf.asides()).toHaveLength(1)
  })
})

describe('a shelf that fails', () => {
  it('is reported, and the next change tries again', async () => {
    const shelf = shelfInMemory()
    const { edit, status, wait } = await page(shelf)
    shelf.fail = new DOMException('no room', 'QuotaExceededError')
    edit().apply(moveTo(700))
    await wait(300)
    expect(status()).toEqual({ kind: 'failed', reason: 'full', message: 'no room' })
    shelf.fail = null
    edit().apply(moveTo(800))
    await wait(300)
    expect(status()).toMatchObject({ kind: 'kept' })
    expect(stationOf(shelf.current()?.document)).toBe(800)
  })

  it('lets the app start without what it cannot read', async () => {
    const shelf = shelfInMemory()
    shelf.fail = new DOMException('not here', 'SecurityError')
    const { restored, status, edit, wait } = await page(shelf)
    expect(restored).toMatchObject({ plan: null, failed: { reason: 'blocked' } })
    expect(status()).toEqual({ kind: 'failed', reason: 'blocked', message: 'not here' })
    edit().apply(moveTo(700))
    await wait(300)
    expect(status().kind).toBe('failed')
  })
})

describe('a document that cannot be read', () => {
  it('of a newer version is set aside untouched, and the app begins anew', async () => {
    const shelf = shelfInMemory()
    const newer = { ...demo, version: planVersion + 1, hologram: true }
    await shelf.write(0, newer as unknown as Plan, 5, false)
    const { restored, edit, status, wait } = await page(shelf)
    expect(restored).toMatchObject({ plan: null, setAside: { kind: 'newerVersion', version: planVersion + 1 } })
    edit().apply(moveTo(700))
    await wait(300)
    expect(status()).toMatchObject({ kind: 'kept' })
    expect(await shelf.asides()).toEqual([{ savedAtMs: 5, why: 'unreadable', document: newer }])
  })

  it('that is damaged is set aside for the version before it', async () => {
    const shelf = shelfInMemory()
    await shelf.write(0, demo, 5, false)
    await shelf.write(1, { ...demo, tracks: null } as unknown as Plan, 6, false)
    const { restored, edit, wait } = await page(shelf)
    expect(restored).toMatchObject({ plan: demo, savedAtMs: 5, setAside: { kind: 'badValue', where: 'tracks' } })
    edit().apply(moveTo(700))
    await wait(300)
    expect(stationOf((await page(shelf)).edit().plan)).toBe(700)
  })
})

describe('two pages on one shelf', () => {
  it('with locks: the second is told at once and writes nothing', async () => {
    const [shelf, claims] = [shelfInMemory(), claimsShared()]
    const first = await page(shelf, claims.page())
    const second = await page(shelf, claims.page())
    expect(second.status()).toEqual({ kind: 'elsewhere' })
    second.edit().apply(moveTo(900))
    first.edit().apply(moveTo(700))
    await second.wait(300)
    await first.wait(300)
    expect(stationOf(shelf.current()?.document)).toBe(700)
    expect([first.status().kind, second.status().kind]).toEqual(['kept', 'elsewhere'])
  })

  it('with locks: the second goes on when the first closes without having written', async () => {
    const [shelf, claims] = [shelfInMemory(), claimsShared()]
    const first = await page(shelf, claims.page())
    const second = await page(shelf, claims.page())
    second.edit().apply(moveTo(900))
    first.autosave.stop()
    await settle()
    expect([second.status().kind, stationOf(shelf.current()?.document)]).toEqual(['kept', 900])
  })

  it('with locks: the second stays told when the first has written and closes', async () => {
    const [shelf, claims] = [shelfInMemory(), claimsShared()]
    const first = await page(shelf, claims.page())
    const second = await page(shelf, claims.page())
    first.edit().apply(moveTo(700))
    await first.wait(300)
    first.autosave.stop()
    second.edit().apply(moveTo(900))
    await second.wait(300)
    expect([second.status().kind, stationOf(shelf.current()?.document)]).toEqual(['elsewhere', 700])
  })

  it('with locks: a page that shows an older plan is told even if nothing was done in it', async () => {
    const [shelf, claims] = [shelfInMemory(), claimsShared()]
    const first = await page(shelf, claims.page())
    const second = await page(shelf, claims.page())
    first.edit().apply(moveTo(700))
    await first.wait(300)
    first.autosave.stop()
    await settle()
    expect(second.status()).toEqual({ kind: 'elsewhere' })
  })

  it('without locks: the late one is told instead of writing over the other', async () => {
    const shelf = shelfInMemory()
    const first = await page(shelf)
    const second = await page(shelf)
    first.edit().apply(moveTo(700))
    await first.wait(300)
    second.edit().apply(moveTo(900))
    await second.wait(300)
    expect([second.status().kind, stationOf(shelf.current()?.document)]).toEqual(['elsewhere', 700])
  })

  it('change places when one takes over, and what was there is the version before', async () => {
    const [shelf, claims] = [shelfInMemory(), claimsShared()]
    const first = await page(shelf, claims.page())
    const second = await page(shelf, claims.page())
    first.edit().apply(moveTo(700))
    await first.wait(300)
    second.edit().apply(moveTo(900))
    await second.autosave.takeOver()
    await settle()
    expect([first.status().kind, second.status().kind]).toEqual(['elsewhere', 'kept'])
    first.edit().apply(moveTo(750))
    await first.wait(300)
    second.edit().apply(moveTo(950))
    await second.wait(300)
    expect([stationOf(shelf.current()?.document), first.status().kind, second.status().kind]).toEqual([950, 'elsewhere', 'kept'])
  })

  it('show the same: the one that does not write follows, and keeps nothing by it', async () => {
    const [shelf, claims, news] = [shelfInMemory(), claimsShared(), newsShared()]
    const first = await page(shelf, claims.page(), news.page())
    const second = await page(shelf, claims.page(), news.page())
    for (const stationMm of [700, 720]) {
      first.edit().apply(moveTo(stationMm))
      await first.wait(300)
      expect(stationOf(second.edit().plan)).toBe(stationMm)
    }
    await second.wait(300)
    expect([second.status().kind, shelf.writes]).toEqual(['elsewhere', 2])
    first.autosave.stop()
    await settle()
    second.edit().apply(moveTo(900))
    await second.wait(300)
    expect([second.status().kind, stationOf(shelf.current()?.document)]).toEqual(['kept', 900])
  })

  it('do not take from each other what was done here and is kept nowhere', async () => {
    const [shelf, claims, news] = [shelfInMemory(), claimsShared(), newsShared()]
    const first = await page(shelf, claims.page(), news.page())
    const second = await page(shelf, claims.page(), news.page())
    second.edit().apply(moveTo(900))
    first.edit().apply(moveTo(700))
    await first.wait(300)
    expect(stationOf(second.edit().plan)).toBe(900)
  })

  it('take over with the plan they show and set aside another one that came to the desk', async () => {
    const [shelf, claims] = [shelfInMemory(), claimsShared()]
    const first = await page(shelf, claims.page())
    first.edit().apply(moveTo(700))
    await first.wait(300)
    const second = await page(shelf, claims.page())
    first.edit().load({ ...demo, railway: { ...demo.railway, title: 'Quay' } })
    await first.wait(300)
    await second.autosave.takeOver()
    expect(stationOf(shelf.current()?.document)).toBe(700)
    expect((await shelf.asides()).map(({ document }) => (document as Plan).railway.title)).toContain('Quay')
  })
})
