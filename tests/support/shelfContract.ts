import { expect, it } from 'vitest'
import type { Plan } from '../../src/core/plan/index.ts'
import { planRestore, planStoreCreate } from '../../src/store/index.ts'
import type { PlanShelf } from '../../src/store/index.ts'
import { aTrack, planWith } from './plans.ts'

const titled = (title: string): Plan => planWith({ railway: { title }, tracks: [aTrack()] })
const none = { undo: [], redo: [] }
const titleOf = (document: unknown) => (document as Plan | null)?.railway.title

/** What every shelf must do; run on the one in memory and on the browser's. `open` opens the same empty shelf again on each call. */
export function shelfContract(fresh: () => { open(): PlanShelf }): void {
  it('is empty at first', async () => {
    const shelf = fresh().open()
    expect(await shelf.read()).toEqual({ current: null, previous: null })
    expect(await planRestore(shelf)).toEqual({
      plan: null,
      savedAtMs: null,
      revision: 0,
      planId: null,
      history: none,
      setAside: null,
      failed: null,
    })
    expect(await shelf.asides()).toEqual([])
  })

  it('gives back what was written, also to one who opens it later', async () => {
    const place = fresh()
    expect(await place.open().write(0, titled('Quay'), 17, false, undefined, 'quay')).toBe(1)
    expect(await planRestore(place.open())).toEqual({
      plan: titled('Quay'),
      savedAtMs: 17,
      revision: 1,
      planId: 'quay',
      history: none,
      setAside: null,
      failed: null,
    })
  })

  it('gives back the steps to that plan and back', async () => {
    const place = fresh()
    const first = planStoreCreate(titled('Quay'))
    for (const title of ['Pier', 'Mole']) first.getState().apply({ kind: 'railway.set', change: { title } })
    first.getState().undo()
    const { committed, undoStack: undo, redoStack: redo } = first.getState()
    await place.open().write(0, committed, 17, false, { undo, redo })
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
    await shelf.write(0, titled('one'), 1, false)
    expect(await shelf.write(0, titled('late'), 2, false)).toBeNull()
    expect(await shelf.write(1, titled('two'), 3, false)).toBe(2)
    const { current, previous } = await shelf.read()
    expect([titleOf(current?.document), current?.revision, titleOf(previous?.document)]).toEqual(['two', 2, 'one'])
  })

  it('lets one of two writes at the same moment through', async () => {
    const place = fresh()
    const revisions = await Promise.all([place.open().write(0, titled('a'), 1, false), place.open().write(0, titled('b'), 1, false)])
    expect(revisions.toSorted()).toEqual([1, null])
  })

  it('sets aside what another plan replaces, and what cannot be read, newest first', async () => {
    const shelf = fresh().open()
    await shelf.write(0, titled('old'), 1, false)
    await shelf.write(1, titled('new'), 2, true)
    expect(await shelf.setAside()).toBe(3)
    expect(await shelf.write(3, titled('third'), 4, false)).toBe(4)
    expect((await shelf.asides()).map((aside) => [titleOf(aside.document), aside.why, aside.savedAtMs])).toEqual([
      ['new', 'unreadable', 2],
      ['old', 'replaced', 1],
    ])
    expect(titleOf((await shelf.read()).current?.document)).toBe('third')
  })

  it('sets nothing aside from an empty place', async () => {
    const shelf = fresh().open()
    expect(await shelf.setAside()).toBe(1)
    expect(await shelf.asides()).toEqual([])
    expect(await planRestore(shelf)).toMatchObject({ plan: null, revision: 1, setAside: null })
  })
}
