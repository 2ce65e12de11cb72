import { describe, expect, it } from 'vitest'
import { planEmpty, planVersion } from '../../../src/core/plan/index.ts'
import type { Plan } from '../../../src/core/plan/index.ts'
import { autosaveStart, claimsAlways, planRestore, planStoreCreate } from '../../../src/store/index.ts'
import type { PlanShelf } from '../../../src/store/index.ts'
import { demo, moveTo, page, settle, stationOf } from '../../support/autosavePage.ts'
import { shelfInMemory } from '../../support/shelf.ts'
import { timingByHand } from '../../support/timing.ts'

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
    const [shelf, timing] = [shelfInMemory(), timingByHand()]
    const slow: PlanShelf = {
      ...shelf,
      async write(plan) {
        await new Promise<void>((over) => timing.after(60, over))
        return shelf.write(plan)
      },
    }
    const planStore = planStoreCreate(demo)
    autosaveStart({ planStore, shelf: slow, restored: await planRestore(shelf), claims: claimsAlways, timing })
    await settle()
    for (let i = 1; i <= 40; i++) {
      planStore.getState().apply(moveTo(500 + i))
      timing.pass(10)
      await settle()
    }
    for (let i = 0; i < 30; i++) {
      timing.pass(10)
      await settle()
    }
    // 400 ms of changes; each write takes 60 ms and the page has as long between two.
    expect(shelf.writes).toBeGreaterThanOrEqual(3)
    expect(shelf.writes).toBeLessThanOrEqual(5)
    expect(stationOf(shelf.last()?.document)).toBe(540)
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
    expect(stationOf(shelf.last()?.document)).toBe(900)
  })

  it('writes at once when flushed, as on leaving the page', async () => {
    const shelf = shelfInMemory()
    const { edit, autosave } = await page(shelf)
    edit().apply(moveTo(700))
    await autosave.flush()
    expect(stationOf(shelf.last()?.document)).toBe(700)
  })

  it('writes an undo like any change', async () => {
    const shelf = shelfInMemory()
    const { edit, wait } = await page(shelf)
    edit().apply(moveTo(700))
    await wait(300)
    edit().undo()
    await wait(300)
    expect(stationOf(shelf.last()?.document)).toBe(500)
    expect(shelf.plans()).toHaveLength(1)
  })

  it('keeps the version before the last, and a plan that another one replaces on the desk', async () => {
    const shelf = shelfInMemory()
    const { edit, wait } = await page(shelf)
    for (const stationMm of [600, 700]) {
      edit().apply(moveTo(stationMm))
      await wait(300)
    }
    expect(stationOf((await shelf.read(null)).before)).toBe(600)
    edit().load(planEmpty())
    await wait(300)
    expect(shelf.plans().map(({ document }) => stationOf(document))).toEqual([700, undefined])
    edit().apply({ kind: 'railway.set', change: { title: 'Quay' } })
    await wait(300)
    expect(shelf.plans()).toHaveLength(2)
  })

  it('writes the first step of a burst at once', async () => {
    const shelf = shelfInMemory()
    const { edit, wait } = await page(shelf)
    edit().apply(moveTo(700))
    await wait(0)
    expect(stationOf(shelf.last()?.document)).toBe(700)
  })

  it('has the first change of the demo on its way in the same breath, and the next one noted down on it', async () => {
    const shelf = shelfInMemory()
    const first = await page(shelf)
    const write = shelf.write
    // One write comes through; while it is on its way there is another step.
    shelf.write = (plan) => {
      shelf.write = () => new Promise(() => undefined)
      first.edit().apply(moveTo(750))
      return write(plan)
    }
    first.edit().apply(moveTo(700))
    // No time passes.
    await settle()
    expect(stationOf(shelf.last()?.document)).toBe(700)
    shelf.write = write
    const second = await page(shelf)
    await second.wait(300)
    expect([second.status().kind, stationOf(second.edit().plan), stationOf(shelf.last()?.document)]).toEqual(['kept', 750, 750])
    second.edit().undo()
    expect(stationOf(second.edit().plan)).toBe(700)
  })

  it('loses no step with a page that dies before it has written', async () => {
    const shelf = shelfInMemory()
    const first = await page(shelf)
    first.edit().apply(moveTo(700))
    await first.wait(300)
    const write = shelf.write
    // From here on no write comes through: two steps, one of them while the first is on its way.
    shelf.write = () => new Promise(() => undefined)
    for (const stationMm of [740, 750, 760]) {
      first.edit().apply(moveTo(stationMm))
      await first.wait(stationMm - 740)
    }
    expect(stationOf(shelf.last()?.document)).toBe(700)
    shelf.write = write
    const second = await page(shelf)
    await second.wait(300)
    expect([second.status().kind, stationOf(second.edit().plan), stationOf(shelf.last()?.document)]).toEqual(['kept', 760, 760])
    second.edit().undo()
    expect(stationOf(second.edit().plan)).toBe(700)
    second.edit().undo()
    expect(stationOf(second.edit().plan)).toBe(500)
  })

  it('loses no step that was not written yet when another plan comes to the desk', async () => {
    const shelf = shelfInMemory()
    const { edit, wait } = await page(shelf)
    edit().apply(moveTo(700))
    await wait(0)
    edit().apply(moveTo(750))
    edit().load(planEmpty())
    await wait(0)
    expect(shelf.plans().map(({ document }) => stationOf(document))).toEqual([750, undefined])
  })

  it('keeps a demo that was loaded once it is changed, and not before', async () => {
    const shelf = shelfInMemory()
    const { autosave, edit, status, wait } = await page(shelf)
    edit().apply(moveTo(700))
    await wait(300)
    autosave.nextIs({ kind: 'example' })
    edit().load(demo)
    await wait(300)
    expect([status().kind, shelf.plans().length]).toEqual(['fresh', 1])
    edit().apply(moveTo(800))
    await wait(300)
    expect(shelf.plans().map(({ document }) => stationOf(document))).toEqual([700, 800])
  })

  it('knows a plan that is taken back for the one that it was', async () => {
    const shelf = shelfInMemory()
    const { autosave, edit, status, wait } = await page(shelf)
    edit().apply(moveTo(700))
    await wait(300)
    const [before, id] = [edit(), autosave.planId()]
    edit().load(planEmpty())
    await wait(300)
    autosave.nextIs({ kind: 'before', id })
    edit().load(before.committed, { undo: before.undoStack, redo: before.redoStack })
    await wait(300)
    expect([autosave.planId(), status().kind, shelf.plans().length, shelf.last()?.id]).toEqual([id, 'kept', 2, id])
    edit().undo()
    await wait(300)
    expect(shelf.plans().map(({ document }) => stationOf(document))).toEqual([500, undefined])
  })

  it('opens a plan of the shelf with its steps and goes on in its place', async () => {
    const shelf = shelfInMemory()
    const first = await page(shelf)
    first.edit().apply(moveTo(700))
    await first.wait(300)
    first.edit().load(planEmpty())
    await first.wait(300)
    const [quay] = shelf.plans()
    if (quay === undefined) throw new Error('nothing was kept')
    const { id, revision, savedAtMs } = quay
    first.autosave.nextIs({ kind: 'kept', id, revision, savedAtMs })
    first.edit().load((await planRestore(shelf, id)).plan ?? demo)
    await first.wait(300)
    expect([first.status(), shelf.writes]).toEqual([{ kind: 'kept', atMs: savedAtMs }, 2])
    const again = await page(shelf)
    expect([again.autosave.planId(), stationOf(again.edit().plan), again.edit().undoStack.length]).toEqual([id, 700, 1])
  })

  it('puts a version in the place of its plan', async () => {
    const shelf = shelfInMemory()
    const { autosave, edit, wait } = await page(shelf)
    for (const stationMm of [600, 700]) {
      edit().apply(moveTo(stationMm))
      await wait(300)
    }
    autosave.nextIs({ kind: 'version', id: autosave.planId(), revision: 0 })
    edit().load(demo)
    await wait(300)
    expect(shelf.plans().map(({ document, revision }) => [stationOf(document), revision])).toEqual([[500, 3]])
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
    expect(stationOf(shelf.last()?.document)).toBe(800)
  })

  it('is tried again after a while though nothing is changed any more', async () => {
    const shelf = shelfInMemory()
    const { edit, status, wait } = await page(shelf)
    shelf.fail = new DOMException('no room', 'QuotaExceededError')
    edit().apply(moveTo(700))
    await wait(300)
    shelf.fail = null
    await wait(14_000)
    expect(status().kind).toBe('failed')
    await wait(1000)
    expect([status().kind, stationOf(shelf.last()?.document)]).toEqual(['kept', 700])
  })

  it('by not answering is told within five seconds, and what still comes through is kept', async () => {
    const shelf = shelfInMemory()
    const { autosave, edit, status, wait } = await page(shelf)
    edit().apply(moveTo(600))
    await wait(300)
    const write = shelf.write
    let answer = (): void => undefined
    shelf.write = async (plan) => {
      await new Promise<void>((now) => (answer = now))
      return write(plan)
    }
    edit().apply(moveTo(700))
    await wait(300)
    expect([status().kind, autosave.isUnkept()]).toEqual(['waiting', false])
    await wait(4700)
    expect([status(), autosave.isUnkept()]).toMatchObject([{ kind: 'failed', reason: 'slow' }, true])
    answer()
    await settle()
    expect([status().kind, autosave.isUnkept(), stationOf(shelf.last()?.document)]).toEqual(['kept', false, 700])
  })

  it('by being emptied under the page has the plan written anew', async () => {
    const shelf = shelfInMemory()
    const { edit, status, wait } = await page(shelf)
    for (const stationMm of [600, 700]) {
      edit().apply(moveTo(stationMm))
      await wait(300)
    }
    Object.assign(shelf, shelfInMemory())
    edit().apply(moveTo(800))
    await wait(300)
    expect([status().kind, stationOf(shelf.last()?.document)]).toEqual(['kept', 800])
  })

  it('to tell other pages keeps nothing from being written', async () => {
    const shelf = shelfInMemory()
    const { edit, wait } = await page(shelf, claimsAlways, {
      tell() {
        throw new DOMException('closed', 'InvalidStateError')
      },
      listen: () => undefined,
      stop: () => undefined,
    })
    for (const stationMm of [600, 700]) {
      edit().apply(moveTo(stationMm))
      await wait(300)
    }
    expect(stationOf(shelf.last()?.document)).toBe(700)
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
  const put = (shelf: PlanShelf, base: number, document: unknown) =>
    shelf.write({ id: 'quay', base, document: document as Plan, savedAtMs: 5, history: { undo: [], redo: [] }, isMarked: false })

  it('of a newer version stays where it is untouched, and the app begins another plan', async () => {
    const shelf = shelfInMemory()
    const newer = { ...demo, version: planVersion + 1, hologram: true }
    await put(shelf, 0, newer)
    const { restored, edit, status, wait } = await page(shelf)
    expect(restored).toMatchObject({ plan: null, unreadable: { kind: 'newerVersion', version: planVersion + 1 } })
    edit().apply(moveTo(700))
    await wait(300)
    expect(status()).toMatchObject({ kind: 'kept' })
    expect(shelf.plans()[0]).toMatchObject({ id: 'quay', revision: 1, savedAtMs: 5, document: newer })
    expect(stationOf((await page(shelf)).edit().plan)).toBe(700)
  })

  it('that is damaged stays where it is; as it was before it is another plan, and is kept as that', async () => {
    const shelf = shelfInMemory()
    await put(shelf, 0, demo)
    const damaged = { ...demo, tracks: null }
    await put(shelf, 1, damaged)
    const { restored, edit, wait } = await page(shelf)
    expect(restored).toMatchObject({ plan: demo, savedAtMs: null, unreadable: { kind: 'badValue', where: 'tracks' } })
    await wait(300)
    expect(shelf.plans().map(({ document }) => document)).toEqual([damaged, demo])
    edit().apply(moveTo(700))
    await wait(300)
    expect(stationOf((await page(shelf)).edit().plan)).toBe(700)
  })
})
