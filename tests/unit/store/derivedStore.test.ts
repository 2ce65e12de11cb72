import { describe, expect, it } from 'vitest'
import type { Finding } from '../../../src/core/checks/types.ts'
import type { PlanCommand } from '../../../src/core/edit/index.ts'
import { pipelineCreate } from '../../../src/core/pipeline/index.ts'
import type { Plan } from '../../../src/core/plan/types.ts'
import type { ChecksNews, PlanChecks } from '../../../src/engine/planChecks.ts'
import { derivedStoreCreate, isChecking, planStoreCreate } from '../../../src/store/index.ts'
import { aTrack, aTurnout, planWith } from '../../support/plans.ts'

const plan = planWith({ tracks: [aTrack()], turnouts: [aTurnout()] })
const moveTo = (stationMm: number): PlanCommand => ({ kind: 'turnout.set', id: 'turnout-1', change: { stationMm } })

/** The stores with checks that the test holds: they find one thing, the turnout's station. */
function opened() {
  const planStore = planStoreCreate(plan)
  const asked: { readonly plan: Plan; readonly tell: (news: ChecksNews) => void }[] = []
  const checks: PlanChecks = {
    follow: (one, tell) => void asked.push({ plan: one, tell }),
    lookThrough: () => Promise.reject(new Error('not asked for here')),
  }
  const store = derivedStoreCreate(planStore, pipelineCreate(), checks)
  /** The plan that the checks were asked about longest ago. */
  const next = () => {
    const one = asked.shift()
    if (one === undefined) throw new Error('the checks were not asked')
    return one
  }
  return {
    edit: () => planStore.getState(),
    seen: () => store.getState(),
    found: () => store.getState().findings.map(({ measured }) => measured),
    isChecking: () => isChecking(store.getState()),
    asked,
    /** The checks are through with it, and found just these. */
    tell: (findings: readonly Finding[]) => {
      const one = next()
      one.tell({ ok: true, plan: one.plan, findings })
    },
    through: (trouble?: string) => {
      const one = next()
      const measured = one.plan.turnouts['turnout-1']?.stationMm ?? null
      if (trouble === undefined) one.tell({ ok: true, plan: one.plan, findings: [{ measured } as Finding] })
      else one.tell({ ok: false, plan: one.plan, trouble })
    },
  }
}

describe('the derived store', () => {
  it('has geometry from the start, and findings when the checks are through', () => {
    const { seen, found, through, isChecking: checking } = opened()
    expect([seen().derived.plan, seen().findingsFor, found(), checking()]).toEqual([plan, null, [], true])
    through()
    expect([seen().findingsFor, found(), checking()]).toEqual([plan, [500], false])
  })

  it('keeps the old findings with their plan while the checks are at work', () => {
    const { edit, seen, found, through, isChecking: checking } = opened()
    through()
    edit().begin('Drag')
    edit().replace(moveTo(600))
    expect(seen().derived.plan).toBe(edit().plan)
    expect([found(), seen().findingsFor, checking()]).toEqual([[500], plan, true])
    through()
    expect([found(), seen().findingsFor === edit().plan, checking()]).toEqual([[600], true, false])
    edit().commit()
    through()
    expect([found(), checking()]).toEqual([[600], false])
  })

  it('keeps the list as long as the same is found, so that nothing is drawn again for it', () => {
    const { edit, seen, tell } = opened()
    const [one, other] = [500, 600].map((measured) => ({ measured }) as Finding)
    if (one === undefined || other === undefined) throw new Error('no findings')
    tell([one, other])
    const before = seen().findings
    edit().begin('Drag')
    edit().replace(moveTo(600))
    tell([one, other])
    expect([seen().findings === before, seen().findingsFor === edit().plan]).toEqual([true, true])
    edit().replace(moveTo(700))
    tell([one])
    expect(seen().findings).toEqual([one])
    edit().replace(moveTo(800))
    tell([other])
    expect(seen().findings).toEqual([other])
  })

  it('forgets what was found in another document', () => {
    const { edit, found, through, seen } = opened()
    through()
    edit().load(planWith({ tracks: [aTrack()], turnouts: [aTurnout({ stationMm: 700 })] }))
    expect([found(), seen().findingsFor]).toEqual([[], null])
    through()
    expect(found()).toEqual([700])
  })

  it('does not take in what comes late of another document', () => {
    const { edit, found, through, seen } = opened()
    edit().load(planWith({ tracks: [aTrack()], turnouts: [aTurnout({ stationMm: 700 })] }))
    through()
    expect([found(), seen().findingsFor]).toEqual([[], null])
    through()
    expect(found()).toEqual([700])
  })

  it('says what keeps the checks from their work, until they are through again', () => {
    const { edit, found, through, seen, isChecking: checking } = opened()
    through()
    edit().apply(moveTo(600))
    through('out of memory')
    expect([found(), seen().checksTrouble, checking()]).toEqual([[500], 'out of memory', false])
    edit().apply(moveTo(700))
    through()
    expect([found(), seen().checksTrouble, checking()]).toEqual([[700], null, false])
  })
})
