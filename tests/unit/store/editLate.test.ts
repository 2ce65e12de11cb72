import { describe, expect, it } from 'vitest'
import type { PlanCommand } from '../../../src/core/edit/index.ts'
import { late, planStoreCreate } from '../../../src/store/index.ts'
import { editing } from '../../../src/store/editing.ts'
import { aTrack, aTurnout, planWith } from '../../support/plans.ts'

const plan = planWith({ tracks: [aTrack()], turnouts: [aTurnout()] })
const moveTo = (stationMm: number): PlanCommand => ({ kind: 'turnout.set', id: 'turnout-1', change: { stationMm } })

/** A store to which what edits comes when `come` is called; each asking before that may be made to fail. */
function early() {
  let come: () => void = () => undefined
  const refused: string[] = []
  let isLost = false
  const edits = late(() =>
    isLost
      ? Promise.reject(new Error('no network'))
      : new Promise<typeof editing>((resolve) => {
          come = () => resolve(editing)
        }),
  )
  const store = planStoreCreate(plan, undefined, { edits, refused: ({ kind }) => void refused.push(kind) })
  const settle = (): Promise<void> => new Promise((done) => setTimeout(done))
  return {
    at: () => store.getState(),
    station: () => store.getState().plan.turnouts['turnout-1']?.stationMm,
    labels: () => store.getState().undoStack.map(({ label }) => label),
    refused,
    lose: (is: boolean) => void (isLost = is),
    async arrive() {
      come()
      await settle()
    },
    settle,
  }
}

describe('what is done before that which edits has come', () => {
  it('waits, and is done in its turn', async () => {
    const { at, station, labels, arrive } = early()
    at().apply(moveTo(510))
    at().begin('Drag')
    at().replace(moveTo(520))
    at().replace(moveTo(530))
    at().commit()
    at().apply(moveTo(540))
    at().undo()
    expect(at().plan).toBe(plan)
    await arrive()
    expect([station(), labels(), at().redoStack.length]).toEqual([530, ['Move turnout East', 'Drag'], 1])
    at().apply(moveTo(550))
    expect(station()).toBe(550)
  })

  it('lets a drag that was given up be nothing', async () => {
    const { at, arrive } = early()
    at().begin('Drag')
    at().replace(moveTo(520))
    at().cancel()
    await arrive()
    expect([at().plan, at().transaction, at().undoStack]).toEqual([plan, null, []])
  })

  it('tells what could not be done, and does the rest', async () => {
    const { at, station, refused, arrive } = early()
    at().apply({ kind: 'turnout.set', id: 'nowhere', change: { stationMm: 510 } })
    at().apply(moveTo(Number.NaN))
    at().apply(moveTo(520))
    await arrive()
    expect([refused, station()]).toEqual([['notFound', 'badValue'], 520])
  })

  it('is not done to another plan that was loaded meanwhile', async () => {
    const { at, arrive } = early()
    at().apply(moveTo(510))
    const other = { ...plan, railway: { ...plan.railway, title: 'Another' } }
    at().load(other)
    await arrive()
    expect([at().plan, at().undoStack]).toEqual([other, []])
  })

  it('is asked for again by the next command when it was lost on the way', async () => {
    const { at, station, labels, lose, settle, arrive } = early()
    lose(true)
    at().apply(moveTo(510))
    await settle()
    lose(false)
    at().apply(moveTo(520))
    await arrive()
    expect([station(), labels().length]).toEqual([520, 2])
  })
})
