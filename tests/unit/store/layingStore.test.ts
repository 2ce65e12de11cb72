import { describe, expect, it } from 'vitest'
import type { PlanCommand } from '../../../src/core/edit/index.ts'
import type { Plan } from '../../../src/core/plan/types.ts'
import type { LayingAnswer, LayingListener } from '../../../src/engine/protocol.ts'
import { layingStoreCreate, planStoreCreate, sessionStoreCreate } from '../../../src/store/index.ts'
import { aTrack, aTurnout, planWith } from '../../support/plans.ts'
import { timingByHand } from '../../support/timing.ts'

const plan = planWith({ tracks: [aTrack()], turnouts: [aTurnout()] })
const moveTo = (stationMm: number): PlanCommand => ({ kind: 'turnout.set', id: 'turnout-1', change: { stationMm } })

/** The stores with an engine that the test holds. */
function opened() {
  const planStore = planStoreCreate(plan)
  const session = sessionStoreCreate()
  const timing = timingByHand()
  const asked: {
    readonly plan: Plan
    readonly hear: LayingListener
    readonly answer: (answer: LayingAnswer) => void
    readonly fail: (message: string) => void
  }[] = []
  const store = layingStoreCreate(
    planStore,
    session,
    {
      laying: (one, _seconds, hear) =>
        new Promise((answer, reject) => asked.push({ plan: one, hear, answer, fail: (message) => reject(new Error(message)) })),
    },
    timing,
  )
  return { edit: () => planStore.getState(), open: session.getState().setStage, seen: () => store.getState(), timing, asked }
}

/** What the engine gives is handed on as it is, so that a mark is enough to know it again. */
const listsOf = (mark: string): LayingAnswer => ({ lists: mark, shopping: mark }) as unknown as LayingAnswer
const settled = (): Promise<void> => new Promise((done) => setTimeout(done, 0))

describe('the laying store', () => {
  it('asks for nothing before a stage of laying is opened', () => {
    const { edit, open, timing, asked } = opened()
    edit().apply(moveTo(600))
    open('checks')
    timing.pass(10_000)
    expect(asked).toHaveLength(0)
    open('track')
    timing.pass(1)
    expect(asked.map((one) => one.plan)).toEqual([edit().plan])
  })

  it('keeps the last lists, with their plan, until those of the changed plan are there', async () => {
    const { edit, open, seen, timing, asked } = opened()
    open('roadbed')
    timing.pass(1)
    asked[0]?.answer(listsOf('first'))
    await settled()
    expect([seen().answer, seen().answerFor, seen().work]).toEqual([listsOf('first'), plan, { kind: 'rest' }])
    edit().apply(moveTo(600))
    timing.pass(10)
    edit().apply(moveTo(700))
    timing.pass(10_000)
    // Two edits of one thought are one question.
    expect(asked).toHaveLength(2)
    expect([seen().answer, seen().answerFor, seen().work.kind]).toEqual([listsOf('first'), plan, 'working'])
    asked[1]?.answer(listsOf('second'))
    await settled()
    expect([seen().answer, seen().answerFor === edit().plan]).toEqual([listsOf('second'), true])
  })

  it('does not ask while a drag is underway', () => {
    const { edit, open, timing, asked } = opened()
    open('track')
    timing.pass(1)
    edit().begin('Drag')
    edit().replace(moveTo(600))
    timing.pass(10_000)
    expect(asked).toHaveLength(1)
    edit().commit()
    timing.pass(10_000)
    expect(asked).toHaveLength(2)
  })

  it('makes nothing anew for a tick, also while the lists are being made', async () => {
    const { edit, open, seen, timing, asked } = opened()
    const tick = { kind: 'tick.add', record: { list: 'rail', piece: 'track-1 plain left 83 0.0 900.0', done: 'cut' } } as const
    open('track')
    timing.pass(1)
    edit().apply(tick)
    timing.pass(10_000)
    asked[0]?.answer(listsOf('first'))
    await settled()
    expect([asked.length, seen().answerFor === edit().plan]).toEqual([1, true])
    edit().apply({ ...tick, record: { ...tick.record, done: 'laid' } })
    timing.pass(10_000)
    expect([asked.length, seen().answer, seen().answerFor === edit().plan]).toEqual([1, listsOf('first'), true])
    edit().apply(moveTo(600))
    timing.pass(10_000)
    expect(asked).toHaveLength(2)
  })

  it('lets go of lists that are not wanted any more, whatever becomes of them', async () => {
    const { edit, open, seen, timing, asked } = opened()
    open('track')
    timing.pass(1)
    edit().apply(moveTo(600))
    timing.pass(10_000)
    expect([asked[0]?.hear({ kind: 'derive' }), asked[1]?.hear({ kind: 'derive' })]).toEqual([false, true])
    asked[1]?.answer(listsOf('new'))
    await settled()
    asked[0]?.answer(listsOf('old'))
    await settled()
    expect([seen().answer, seen().answerFor === edit().plan]).toEqual([listsOf('new'), true])
  })

  it('stops with the best so far, and makes the lists again when asked', async () => {
    const { open, seen, timing, asked } = opened()
    open('track')
    timing.pass(1)
    const progress = { kind: 'cut', progress: { rounds: 1, bestMm: 900, boundMm: 800 } } as const
    expect(asked[0]?.hear(progress)).toBe(true)
    expect(seen().work).toEqual({ kind: 'working', progress })
    seen().stop()
    expect(asked[0]?.hear(progress)).toBe(false)
    asked[0]?.answer(listsOf('so far'))
    await settled()
    expect([seen().answer, seen().work]).toEqual([listsOf('so far'), { kind: 'rest' }])
    seen().again()
    expect([asked.length, seen().answer, seen().work.kind]).toEqual([2, listsOf('so far'), 'working'])
  })

  it('says what went wrong, and keeps what it had', async () => {
    const { edit, open, seen, timing, asked } = opened()
    open('track')
    timing.pass(1)
    asked[0]?.answer(listsOf('first'))
    await settled()
    edit().apply(moveTo(600))
    timing.pass(10_000)
    asked[1]?.fail('The lists could not be made: no memory')
    await settled()
    expect(seen()).toMatchObject({
      answer: listsOf('first'),
      answerFor: plan,
      work: { kind: 'failed', message: 'The lists could not be made: no memory' },
    })
  })
})
