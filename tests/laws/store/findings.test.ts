import { expose } from 'comlink'
import * as fc from 'fast-check'
import { expect, test } from 'vitest'
import { settleFindings } from '../../../src/core/checks/index.ts'
import { pipelineCreate } from '../../../src/core/pipeline/index.ts'
import { checksInline } from '../../../src/engine/checksInline.ts'
import { checksWorker } from '../../../src/engine/checksWorker.ts'
import { planChecks } from '../../../src/engine/planChecks.ts'
import type { ChecksEngine } from '../../../src/engine/protocol.ts'
import { derivedStoreCreate, isChecking, makersLate, planStoreCreate } from '../../../src/store/index.ts'
import type { DerivedStoreState, PlanStoreState } from '../../../src/store/types.ts'
import type { StoreApi } from 'zustand/vanilla'
import { planFindings } from '../../support/checks.ts'
import { commandArbitrary, planArbitrary } from '../../support/planArbitraries.ts'
import { stagedWorker } from '../../support/stagedWorker.ts'

await makersLate.bring()

const SEED = 20261126

type Move = (state: PlanStoreState) => void

const move: fc.Arbitrary<Move> = fc.oneof(
  {
    weight: 4,
    arbitrary: commandArbitrary.map(
      (command): Move =>
        (state) =>
          void state.apply(command),
    ),
  },
  {
    weight: 2,
    arbitrary: commandArbitrary.map(
      (command): Move =>
        (state) =>
          void state.replace(command),
    ),
  },
  {
    weight: 4,
    arbitrary: fc.constantFrom<Move>(
      (state) => state.begin('drag'),
      (state) => state.commit(),
      (state) => state.cancel(),
      (state) => void state.undo(),
      (state) => void state.redo(),
    ),
  },
  {
    weight: 1,
    arbitrary: planArbitrary.map(
      (plan): Move =>
        (state) =>
          state.load(plan),
    ),
  },
)

/** A worker engine that is lost at some of its questions, as the numbers say. */
function fallibleChecks(losses: ReadonlySet<number>): ChecksEngine {
  let asked = 0
  const worker = checksWorker(() => stagedWorker((port) => expose(checksInline(), port)).worker)
  return {
    ask: (question) => (losses.has(asked++) ? Promise.reject(new Error('lost')) : worker.ask(question)),
    dispose: () => worker.dispose(),
  }
}

/** Resolves when nothing is looked through any more. */
function settled(store: StoreApi<DerivedStoreState>): Promise<DerivedStoreState> {
  return new Promise((resolve) => {
    const look = (state: DerivedStoreState): void => (isChecking(state) ? undefined : resolve(state))
    store.subscribe(look)
    look(store.getState())
  })
}

test('whatever is edited, how fast, and whenever a worker is lost: in the end the findings are those of the plan', async () => {
  await fc.assert(
    fc.asyncProperty(
      planArbitrary,
      fc.array(fc.tuple(move, fc.boolean()), { minLength: 3, maxLength: 12 }),
      fc.uniqueArray(fc.nat(12), { maxLength: 3 }),
      async (plan, moves, losses) => {
        const planStore = planStoreCreate(plan)
        const engine = fallibleChecks(new Set(losses))
        const checks = planChecks({ engine, fallback: () => Promise.resolve(checksInline()), rest: () => Promise.resolve() })
        const store = derivedStoreCreate(planStore, pipelineCreate(), checks)
        for (const [one, waits] of moves) {
          one(planStore.getState())
          // Some edits come while a question is on its way, some after its answer.
          if (waits) await settled(store)
        }
        const { findings, findingsFor, checksTrouble } = await settled(store)
        engine.dispose()
        expect(checksTrouble).toBeNull()
        expect(findingsFor).toBe(planStore.getState().plan)
        const { plan: last } = planStore.getState()
        expect(findings).toEqual(settleFindings(last, planFindings(last, [])).open)
      },
    ),
    { seed: SEED, numRuns: 40 },
  )
})
