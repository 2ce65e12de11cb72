import { describe, expect, it } from 'vitest'
import type { Finding } from '../../../src/core/checks/types.ts'
import type { PlanCommand } from '../../../src/core/edit/index.ts'
import type { Derived } from '../../../src/core/pipeline/types.ts'
import { pipelineCreate } from '../../../src/core/pipeline/index.ts'
import { derivedStoreCreate, planStoreCreate } from '../../../src/store/index.ts'
import { timingByHand } from '../../support/timing.ts'
import { aTrack, aTurnout, planWith } from '../../support/plans.ts'

const plan = planWith({ tracks: [aTrack()], turnouts: [aTurnout()] })
const moveTo = (stationMm: number): PlanCommand => ({ kind: 'turnout.set', id: 'turnout-1', change: { stationMm } })

/** The stores with a check that takes `costMs` of a clock held by the test and finds one thing: the turnout's station. */
function opened(costMs: number) {
  const timing = timingByHand()
  const planStore = planStoreCreate(plan)
  let checks = 0
  const check = (derived: Derived): readonly Finding[] => {
    checks += 1
    timing.pass(costMs)
    return [{ measured: derived.plan.turnouts['turnout-1']?.stationMm ?? null } as Finding]
  }
  const store = derivedStoreCreate(planStore, pipelineCreate(), check, timing)
  return {
    timing,
    edit: () => planStore.getState(),
    seen: () => store.getState(),
    found: () => store.getState().findings[0]?.measured,
    checks: () => checks,
  }
}

describe('the derived store', () => {
  it('has geometry and findings of the plan from the start', () => {
    const { seen, found } = opened(1)
    expect([seen().derived.plan, seen().findingsFor, found()]).toEqual([plan, plan, 500])
  })

  it('checks at once with every step of a drag while checks are cheap', () => {
    const { edit, seen, found } = opened(3)
    edit().begin('Drag')
    edit().replace(moveTo(600))
    expect([found(), seen().findingsFor === edit().plan]).toEqual([600, true])
    edit().cancel()
    expect(found()).toBe(500)
  })

  it('keeps the old findings with their plan while dear checks wait for the drag to rest', () => {
    const { timing, edit, seen, found, checks } = opened(20)
    edit().begin('Drag')
    for (const stationMm of [510, 520, 530]) {
      edit().replace(moveTo(stationMm))
      timing.pass(50)
    }
    expect(seen().derived.plan).toBe(edit().plan)
    expect([found(), seen().findingsFor, checks()]).toEqual([500, plan, 1])
    timing.pass(120)
    expect([found(), seen().findingsFor === edit().plan, checks()]).toEqual([530, true, 2])
  })

  it('does not make the end of a drag wait, and checks one plan once', () => {
    const { timing, edit, found, checks } = opened(20)
    edit().begin('Drag')
    edit().replace(moveTo(640))
    edit().commit()
    timing.pass(0)
    expect([found(), checks()]).toEqual([640, 2])
    timing.pass(1000)
    expect(checks()).toBe(2)
  })
})
