import * as fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { editApply, patchApply, patchIsEmpty } from '../../../src/core/edit/index.ts'
import type { PlanCommand } from '../../../src/core/edit/index.ts'
import type { Plan } from '../../../src/core/plan/index.ts'
import { makersLate, planStoreCreate } from '../../../src/store/index.ts'
import { commandArbitrary, planArbitrary } from '../../support/planArbitraries.ts'

await makersLate.bring()

type Move =
  | { readonly kind: 'apply' | 'replace'; readonly command: PlanCommand }
  | { readonly kind: 'begin' | 'commit' | 'cancel' | 'undo' | 'redo' }

const move: fc.Arbitrary<Move> = fc.oneof(
  { weight: 3, arbitrary: fc.record({ kind: fc.constantFrom('apply' as const, 'replace' as const), command: commandArbitrary }) },
  {
    weight: 3,
    arbitrary: fc.record({
      kind: fc.constantFrom('begin' as const, 'commit' as const, 'cancel' as const, 'undo' as const, 'redo' as const),
    }),
  },
)

/** The slow way: whole plans kept one after another, the present one at `at`, and what an open drag shows. */
interface Model {
  plans: Plan[]
  at: number
  drag: { shown: Plan } | null
}

function after(plan: Plan, command: PlanCommand): Plan {
  const result = editApply(plan, command)
  return result.ok && !patchIsEmpty(result.patch) ? patchApply(plan, result.patch) : plan
}

function modelMove(model: Model, one: Move): void {
  const present = (): Plan => model.plans[model.at] as Plan
  const keep = (plan: Plan): void => {
    if (plan === present()) return
    model.plans = [...model.plans.slice(0, model.at + 1), plan]
    model.at += 1
  }
  const close = (): void => {
    if (model.drag !== null) keep(model.drag.shown)
    model.drag = null
  }
  switch (one.kind) {
    case 'apply':
      close()
      keep(after(present(), one.command))
      return
    case 'replace':
      if (model.drag === null) keep(after(present(), one.command))
      else if (editApply(present(), one.command).ok) model.drag.shown = after(present(), one.command)
      return
    case 'begin':
      close()
      model.drag = { shown: present() }
      return
    case 'commit':
      close()
      return
    case 'cancel':
      model.drag = null
      return
    case 'undo':
      if (model.drag === null) model.at = Math.max(0, model.at - 1)
      return
    case 'redo':
      if (model.drag === null) model.at = Math.min(model.plans.length - 1, model.at + 1)
  }
}

describe('the history of the plan store', () => {
  it('shows at every moment what a row of whole plans would show', () => {
    let undone = 0
    fc.assert(
      fc.property(planArbitrary, fc.array(move, { minLength: 15, maxLength: 30 }), (plan, moves) => {
        const store = planStoreCreate(plan)
        const model: Model = { plans: [plan], at: 0, drag: null }
        for (const one of moves) {
          const state = store.getState()
          if (one.kind === 'begin') state.begin('Drag')
          else if (one.kind === 'apply' || one.kind === 'replace') state[one.kind](one.command)
          else if (one.kind === 'undo' || one.kind === 'redo') undone += state[one.kind]() ? 1 : 0
          else state[one.kind]()
          modelMove(model, one)
          const now = store.getState()
          expect(now.plan).toEqual(model.drag?.shown ?? model.plans[model.at])
          expect(now.committed).toEqual(model.plans[model.at])
          expect([now.undoStack.length, now.redoStack.length]).toEqual([model.at, model.plans.length - 1 - model.at])
        }
      }),
      { seed: 20261125, numRuns: 80 },
    )
    expect(undone).toBeGreaterThan(50)
  })
})
