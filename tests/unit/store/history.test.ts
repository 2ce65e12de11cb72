import { describe, expect, it } from 'vitest'
import { historyToKeep } from '../../../src/store/history.ts'
import { historyRestored } from '../../../src/store/historyRestored.ts'
import { planStoreCreate } from '../../../src/store/index.ts'
import { aTrack, aTurnout, planWith } from '../../support/plans.ts'

const plan = planWith({ tracks: [aTrack()], turnouts: [aTurnout()] })

/** Eight moves of a turnout, three of them taken back. */
function moved() {
  const store = planStoreCreate(plan)
  for (let i = 1; i <= 8; i++) store.getState().apply({ kind: 'turnout.set', id: 'turnout-1', change: { stationMm: 500 + i } })
  for (let i = 0; i < 3; i++) store.getState().undo()
  const { committed, undoStack: undo, redoStack: redo } = store.getState()
  return { committed, history: structuredClone({ undo, redo }) }
}

describe('steps kept with a plan', () => {
  it('are taken when they belong to it', () => {
    const { committed, history } = moved()
    expect(historyRestored(committed, history)).toEqual(history)
    expect([history.undo.length, history.redo.length]).toEqual([5, 3])
  })

  it('are left where they belong to another plan, up to the last that does', () => {
    const { committed, history } = moved()
    expect(historyRestored(plan, history)).toEqual({ undo: [], redo: [] })
    const broken = history.undo.map((entry, i) => (i === 1 ? { ...entry, patch: { ...entry.patch, records: [] } } : entry))
    // The second step says nothing now: the first no longer leads to what the third begins with.
    expect(historyRestored(committed, { ...history, undo: broken }).undo).toEqual(broken.slice(1))
  })

  it('are left when they are none, or lead to what is no plan', () => {
    const { committed, history } = moved()
    for (const kept of [undefined, null, 7, {}, { undo: [{ label: 'x' }], redo: [] }]) {
      expect(historyRestored(committed, kept)).toEqual({ undo: [], redo: [] })
    }
    const records = history.undo[0]?.patch.records.map((record) => ({ ...record, before: { ...record.before, stationMm: 'far' } }))
    const bad = history.undo.map((entry, i) => (i === 0 ? { ...entry, patch: { ...entry.patch, records } } : entry))
    expect(historyRestored(committed, { undo: bad, redo: [] })).toEqual({ undo: [], redo: [] })
  })

  it('are no more than a hundred each way', () => {
    const store = planStoreCreate(plan)
    for (let i = 1; i <= 130; i++) store.getState().apply({ kind: 'railway.set', change: { title: `title ${i}` } })
    const { undoStack: undo, redoStack: redo } = store.getState()
    expect(historyToKeep({ undo, redo }).undo).toEqual(undo.slice(30))
  })
})
