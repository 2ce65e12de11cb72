import { expect, it } from 'vitest'
import type { Plan } from '../../src/core/plan/index.ts'
import { planRestore, planStoreCreate } from '../../src/store/index.ts'
import type { PlanShelf } from '../../src/store/index.ts'
import { aTrack, planWith } from './plans.ts'

const titled = (title: string): Plan => planWith({ railway: { title }, tracks: [aTrack()] })
const none = { undo: [], redo: [] }
const titleOf = (document: unknown) => (document as Plan | null)?.railway.title

/** Writes a plan of that title over the revision `base` of the plan `id`, at the time `base`. */
function put(shelf: PlanShelf, id: string, base: number, title: string): Promise<number | null> {
  return shelf.write({ id, base, document: titled(title), savedAtMs: base, history: none, isMarked: false })
}

/** What every shelf must do; run on the one in memory and on the browser's. `open` opens the same empty shelf again on each call. */
export function shelfContract(fresh: () => { open(): PlanShelf }): void {
  it('is empty at first', async () => {
    const shelf = fresh().open()
    expect(await shelf.read(null)).toEqual({ current: null, before: null, noted: [] })
    const restored = await planRestore(shelf)
    expect(restored).toMatchObject({ plan: null, savedAtMs: null, revision: 0, history: none, unreadable: null, failed: null })
    expect(restored.planId).not.toBe((await planRestore(shelf)).planId)
  })

  it('gives back what was written, also to one who opens it later', async () => {
    const place = fresh()
    expect(await put(place.open(), 'quay', 0, 'Quay')).toBe(1)
    expect(await planRestore(place.open())).toEqual({
      plan: titled('Quay'),
      savedAtMs: 0,
      revision: 1,
      planId: 'quay',
      history: none,
      unreadable: null,
      failed: null,
    })
  })

  it('gives back the steps to that plan and back', async () => {
    const place = fresh()
    const first = planStoreCreate(titled('Quay'))
    for (const title of ['Pier', 'Mole']) first.getState().apply({ kind: 'railway.set', change: { title } })
    first.getState().undo()
    const { committed: document, undoStack: undo, redoStack: redo } = first.getState()
    await place.open().write({ id: 'quay', base: 0, document, savedAtMs: 17, history: { undo, redo }, isMarked: false })
    const restored = await planRestore(place.open())
    const again = planStoreCreate(restored.plan ?? titled('none'), restored.history)
    again.getState().redo()
    expect(again.getState().plan.railway.title).toBe('Mole')
    again.getState().undo()
    again.getState().undo()
    expect(again.getState().plan).toEqual(titled('Quay'))
  })

  it('refuses a write on an old revision and changes nothing', async () => {
    const shelf = fresh().open()
    await put(shelf, 'quay', 0, 'one')
    expect(await put(shelf, 'quay', 0, 'late')).toBeNull()
    expect(await put(shelf, 'quay', 1, 'two')).toBe(2)
    const { current, before } = await shelf.read('quay')
    expect([titleOf(current?.document), current?.revision, titleOf(before)]).toEqual(['two', 2, 'one'])
  })

  it('holds what was noted down since a revision until the write that builds on it', async () => {
    const shelf = fresh().open()
    const patch = { railway: { before: titled('Quay').railway, after: titled('Pier').railway }, records: [] }
    await put(shelf, 'quay', 0, 'Quay')
    await shelf.note({ id: 'quay', base: 1, patch })
    expect((await shelf.read('quay')).noted).toEqual([patch])
    await put(shelf, 'quay', 1, 'Pier')
    expect((await shelf.read('quay')).noted).toEqual([])
    await shelf.note({ id: 'quay', base: 1, patch })
    expect((await shelf.read('quay')).noted).toEqual([])
    await shelf.note({ id: 'quay', base: 2, patch })
    await shelf.note({ id: 'quay', base: 3, patch })
    expect((await shelf.read('quay')).noted).toEqual([patch, patch])
    // What is noted after a write has begun is not lost by it.
    const written = put(shelf, 'quay', 2, 'Mole')
    await shelf.note({ id: 'quay', base: 3, patch })
    expect(await written).toBe(3)
    expect((await shelf.read('quay')).noted).toEqual([patch])
  })

  it('lets one of two writes at the same moment through, and both when they are of two plans', async () => {
    const place = fresh()
    const revisions = await Promise.all([
      put(place.open(), 'quay', 0, 'a'),
      put(place.open(), 'quay', 0, 'b'),
      put(place.open(), 'pier', 0, 'c'),
    ])
    expect(revisions).toContain(null)
    expect(revisions.filter((revision) => revision === 1)).toHaveLength(2)
    expect(titleOf((await place.open().read('pier')).current?.document)).toBe('c')
  })

  it('gives the plan that is asked for, else the one that was last written or laid on a desk', async () => {
    const shelf = fresh().open()
    await put(shelf, 'quay', 0, 'Quay')
    await put(shelf, 'pier', 0, 'Pier')
    expect((await planRestore(shelf, 'quay')).planId).toBe('quay')
    expect((await planRestore(shelf, 'mole')).planId).toBe('pier')
    expect((await planRestore(shelf)).planId).toBe('pier')
    await shelf.laid('quay')
    expect((await planRestore(shelf)).planId).toBe('quay')
  })
}
