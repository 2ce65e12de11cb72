import { describe, expect, it } from 'vitest'
import { planEmpty } from '../../../src/core/plan/index.ts'
import type { Plan } from '../../../src/core/plan/index.ts'
import { demo, moveTo, page, settle, stationOf } from '../../support/autosavePage.ts'
import { claimsShared, newsShared, shelfInMemory } from '../../support/shelf.ts'

describe('two pages on one plan', () => {
  /** A shelf on which a plan is kept already, with claims and news of the pages. */
  async function quay() {
    const [shelf, claims, news] = [shelfInMemory(), claimsShared(), newsShared()]
    await shelf.write({ id: 'quay', base: 0, document: demo, savedAtMs: 5, history: { undo: [], redo: [] }, isMarked: false })
    return {
      shelf,
      open: () => page(shelf, claims.page(), news.page()),
      openDeaf: () => page(shelf, claims.page()),
      openFree: () => page(shelf),
    }
  }

  it('the second is told at once and writes nothing', async () => {
    const { shelf, openDeaf } = await quay()
    const [first, second] = [await openDeaf(), await openDeaf()]
    expect(second.status()).toEqual({ kind: 'elsewhere', hasOwn: false })
    second.edit().apply(moveTo(900))
    expect(second.status()).toEqual({ kind: 'elsewhere', hasOwn: true })
    first.edit().apply(moveTo(700))
    await second.wait(300)
    await first.wait(300)
    expect(stationOf(shelf.last()?.document)).toBe(700)
    expect([first.status().kind, second.status().kind]).toEqual(['kept', 'elsewhere'])
  })

  it('the second goes on when the first closes without having written', async () => {
    const { shelf, openDeaf } = await quay()
    const [first, second] = [await openDeaf(), await openDeaf()]
    second.edit().apply(moveTo(900))
    first.autosave.stop()
    await settle()
    expect([second.status().kind, stationOf(shelf.last()?.document)]).toEqual(['kept', 900])
  })

  it('the second stays told when the first has written and closes, if it has something of its own', async () => {
    const { shelf, openDeaf } = await quay()
    const [first, second] = [await openDeaf(), await openDeaf()]
    second.edit().apply(moveTo(900))
    first.edit().apply(moveTo(700))
    await first.wait(300)
    first.autosave.stop()
    await second.wait(300)
    expect([second.status(), stationOf(shelf.last()?.document)]).toEqual([{ kind: 'elsewhere', hasOwn: true }, 700])
    await second.autosave.takeOver()
    expect([second.status().kind, stationOf(shelf.last()?.document), stationOf((await shelf.read(null)).before)]).toEqual([
      'kept',
      900,
      700,
    ])
  })

  it('the second shows what the first wrote and goes on with it, though no word came', async () => {
    const { shelf, openDeaf } = await quay()
    const [first, second] = [await openDeaf(), await openDeaf()]
    first.edit().apply(moveTo(700))
    await first.wait(300)
    first.autosave.stop()
    await settle()
    expect([second.status().kind, stationOf(second.edit().plan)]).toEqual(['kept', 700])
    second.edit().undo()
    await second.wait(300)
    expect(stationOf(shelf.last()?.document)).toBe(500)
  })

  it('without locks: the late one is told instead of writing over the other', async () => {
    const { shelf, openFree } = await quay()
    const [first, second] = [await openFree(), await openFree()]
    first.edit().apply(moveTo(700))
    await first.wait(300)
    second.edit().apply(moveTo(900))
    await second.wait(300)
    expect([second.status(), stationOf(shelf.last()?.document)]).toEqual([{ kind: 'elsewhere', hasOwn: true }, 700])
  })

  it('change places when one takes over, and what was there is the version before', async () => {
    const { shelf, open } = await quay()
    const [first, second] = [await open(), await open()]
    first.edit().apply(moveTo(700))
    await first.wait(300)
    second.edit().apply(moveTo(900))
    await second.autosave.takeOver()
    await settle()
    expect([first.status().kind, second.status().kind]).toEqual(['elsewhere', 'kept'])
    expect([stationOf(first.edit().plan), stationOf((await shelf.read(null)).before)]).toEqual([900, 700])
    first.edit().apply(moveTo(750))
    await first.wait(300)
    second.edit().apply(moveTo(950))
    await second.wait(300)
    expect([stationOf(shelf.last()?.document), first.status().kind, second.status().kind]).toEqual([950, 'elsewhere', 'kept'])
  })

  it('one that takes over with nothing of its own goes on from what the other wrote', async () => {
    const { shelf, openDeaf } = await quay()
    const [first, second] = [await openDeaf(), await openDeaf()]
    first.edit().apply(moveTo(700))
    await first.wait(300)
    await second.autosave.takeOver()
    expect([second.status().kind, stationOf(second.edit().plan), stationOf(shelf.last()?.document)]).toEqual(['kept', 700, 700])
  })

  it('show the same: the one that does not write follows, with the steps, and keeps nothing by it', async () => {
    const { shelf, open } = await quay()
    const [first, second] = [await open(), await open()]
    for (const stationMm of [700, 720]) {
      first.edit().apply(moveTo(stationMm))
      await first.wait(300)
      expect(stationOf(second.edit().plan)).toBe(stationMm)
    }
    await second.wait(300)
    expect([second.status().kind, shelf.writes]).toEqual(['elsewhere', 3])
    first.autosave.stop()
    await settle()
    second.edit().undo()
    await second.wait(300)
    expect([second.status().kind, stationOf(shelf.last()?.document)]).toEqual(['kept', 700])
  })

  it('show the same once a drag was given up during which the other wrote', async () => {
    const { open } = await quay()
    const [first, second] = [await open(), await open()]
    second.edit().begin('Drag')
    second.edit().replace(moveTo(900))
    first.edit().apply(moveTo(700))
    await first.wait(300)
    expect(stationOf(second.edit().plan)).toBe(900)
    second.edit().cancel()
    await settle()
    expect([stationOf(second.edit().plan), second.status()]).toEqual([700, { kind: 'elsewhere', hasOwn: false }])
  })

  it('are one again when a drag is given up during which the other wrote and closed', async () => {
    const { shelf, open } = await quay()
    const [first, second] = [await open(), await open()]
    second.edit().begin('Drag')
    second.edit().replace(moveTo(900))
    first.edit().apply(moveTo(700))
    await first.wait(300)
    first.autosave.stop()
    await settle()
    second.edit().cancel()
    await settle()
    expect([stationOf(second.edit().plan), second.status().kind]).toEqual([700, 'kept'])
    second.edit().apply(moveTo(800))
    await second.wait(300)
    expect(stationOf(shelf.last()?.document)).toBe(800)
  })

  it('do not take from each other what was done here and is kept nowhere, until the person drops it', async () => {
    const { open } = await quay()
    const [first, second] = [await open(), await open()]
    second.edit().apply(moveTo(900))
    first.edit().apply(moveTo(700))
    await first.wait(300)
    expect(stationOf(second.edit().plan)).toBe(900)
    await second.autosave.follow()
    expect([stationOf(second.edit().plan), second.status()]).toEqual([700, { kind: 'elsewhere', hasOwn: false }])
  })
})

describe('two pages on two plans', () => {
  it('both write, and neither hears of the other', async () => {
    const [shelf, claims, news] = [shelfInMemory(), claimsShared(), newsShared()]
    const first = await page(shelf, claims.page(), news.page())
    first.edit().apply(moveTo(700))
    await first.wait(300)
    const second = await page(shelf, claims.page(), news.page())
    expect(second.status().kind).toBe('elsewhere')
    second.edit().load(planEmpty())
    await second.wait(0)
    first.edit().apply(moveTo(750))
    second.edit().apply({ kind: 'railway.set', change: { title: 'Pier' } })
    await first.wait(300)
    await second.wait(300)
    expect([first.status().kind, second.status().kind]).toEqual(['kept', 'kept'])
    expect(shelf.plans().map(({ document }) => (document as Plan).railway.title)).toEqual([demo.railway.title, 'Pier'])
    expect([stationOf(first.edit().plan), stationOf(shelf.plans()[0]?.document)]).toEqual([750, 750])
    // A page that is loaded again comes back to its own plan, whichever was written last.
    const again = await page(shelf, claims.page(), news.page(), first.autosave.planId())
    expect(stationOf(again.edit().plan)).toBe(750)
  })

  it('the right to a plan that leaves the desk goes to the page that waits for it', async () => {
    const [shelf, claims, news] = [shelfInMemory(), claimsShared(), newsShared()]
    const first = await page(shelf, claims.page(), news.page())
    first.edit().apply(moveTo(700))
    await first.wait(300)
    const second = await page(shelf, claims.page(), news.page())
    first.edit().apply(moveTo(720))
    first.edit().load(planEmpty())
    await first.wait(300)
    expect([second.status().kind, stationOf(second.edit().plan)]).toEqual(['kept', 720])
  })

  it('on two untouched demos are on two plans: what is changed in each is kept', async () => {
    const [shelf, claims] = [shelfInMemory(), claimsShared()]
    const [first, second] = [await page(shelf, claims.page()), await page(shelf, claims.page())]
    first.edit().apply(moveTo(700))
    second.edit().apply(moveTo(900))
    await first.wait(300)
    await second.wait(300)
    expect(shelf.plans().map(({ document }) => stationOf(document))).toEqual([700, 900])
  })
})
