import { describe, expect, it } from 'vitest'
import type { PlanCommand } from '../../../src/core/edit/index.ts'
import { planStoreCreate } from '../../../src/store/index.ts'
import { aTrack, aTurnout, planWith } from '../../support/plans.ts'

const plan = planWith({ tracks: [aTrack()], turnouts: [aTurnout()] })
const moveTo = (stationMm: number): PlanCommand => ({ kind: 'turnout.set', id: 'turnout-1', change: { stationMm } })
const opened = () => {
  const store = planStoreCreate(plan)
  return { store, at: () => store.getState(), station: () => store.getState().plan.turnouts['turnout-1']?.stationMm }
}

describe('the plan store', () => {
  it('makes one step of a command and takes it back and again', () => {
    const { at, station } = opened()
    at().apply(moveTo(700))
    expect(at().undoStack.map((entry) => entry.label)).toEqual(['Move turnout East'])
    expect(at().undo()).toBe(true)
    expect(at().plan).toEqual(plan)
    expect(at().redoStack.map((entry) => entry.label)).toEqual(['Move turnout East'])
    expect(at().redo()).toBe(true)
    expect(station()).toBe(700)
    expect(at().redo()).toBe(false)
  })

  it('takes a thousand steps back, and again', () => {
    const { at, station } = opened()
    for (let n = 1; n <= 1000; n++) at().apply(moveTo(500 + n / 10))
    for (let n = 0; n < 1000; n++) expect(at().undo()).toBe(true)
    expect([at().undo(), at().plan]).toEqual([false, plan])
    expect([at().travel(1000), station()]).toEqual([true, 600])
  })

  it('goes several steps back and forth at once, as one by one', () => {
    const { at, station } = opened()
    for (const stationMm of [510, 520, 530, 540]) at().apply(moveTo(stationMm))
    expect([at().travel(-3), station(), at().undoStack.length, at().redoStack.length]).toEqual([true, 510, 1, 3])
    expect([at().travel(2), station(), at().undoStack.length]).toEqual([true, 530, 3])
    expect([at().travel(0), station()]).toEqual([true, 530])
    expect([at().travel(2), at().travel(-4), station()]).toEqual([false, false, 530])
    at().begin('Drag')
    expect(at().travel(-1)).toBe(false)
    at().cancel()
    expect([at().travel(-3), at().plan]).toEqual([true, plan])
  })

  it('keeps the same plan object when a command is refused or changes nothing', () => {
    const { at } = opened()
    expect(at().apply({ kind: 'remove', table: 'walls', id: 'wall-1' }).ok).toBe(false)
    expect(at().apply(moveTo(500)).ok).toBe(true)
    expect(at().plan).toBe(plan)
    expect(at().undoStack).toEqual([])
  })

  it('makes one step of a whole drag, computed from its beginning', () => {
    const { at, station } = opened()
    at().begin('Drag turnout')
    for (const stationMm of [510, 550, 600]) at().replace(moveTo(stationMm))
    expect([station(), at().committed]).toEqual([600, plan])
    expect(at().undo()).toBe(false)
    at().commit()
    expect(at().committed).toBe(at().plan)
    expect(at().undoStack.map((entry) => entry.label)).toEqual(['Drag turnout'])
    at().undo()
    expect(at().plan).toEqual(plan)
  })

  it('keeps the last good state of a drag that meets a bad value', () => {
    const { at, station } = opened()
    at().begin('Drag')
    at().replace(moveTo(600))
    expect(at().replace(moveTo(NaN)).ok).toBe(false)
    expect(station()).toBe(600)
    at().commit()
    expect(station()).toBe(600)
  })

  it('leaves no entry for a drag that ends where it began, nor for one that is cancelled', () => {
    const { at } = opened()
    at().begin('Drag')
    at().replace(moveTo(600))
    at().replace(moveTo(500))
    at().commit()
    expect([at().undoStack, at().plan === plan, at().transaction]).toEqual([[], true, null])
    at().begin('Drag')
    at().replace(moveTo(600))
    at().cancel()
    expect([at().undoStack, at().plan === plan, at().transaction]).toEqual([[], true, null])
  })

  it('forgets what was undone once something else is done, but not for a command without effect', () => {
    const { at } = opened()
    at().apply(moveTo(600))
    at().undo()
    at().apply(moveTo(500))
    expect(at().redoStack).toHaveLength(1)
    at().apply(moveTo(800))
    expect(at().redoStack).toHaveLength(0)
  })

  it('finishes an open drag before a command', () => {
    const { at, station } = opened()
    at().begin('Drag')
    at().replace(moveTo(600))
    at().apply({ kind: 'turnout.set', id: 'turnout-1', change: { frog: 8 } })
    expect(at().undoStack.map((entry) => entry.label)).toEqual(['Drag', 'Set frog number of turnout East'])
    at().undo()
    expect(station()).toBe(600)
  })

  it('empties the history with another document', () => {
    const { at } = opened()
    at().apply(moveTo(600))
    const other = planWith()
    at().load(other)
    expect([at().plan, at().committed, at().undoStack, at().undo()]).toEqual([other, other, [], false])
  })
})
