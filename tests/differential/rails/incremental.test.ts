import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { pipelineCreate } from '../../../src/core/pipeline/index.ts'
import { dataShared } from '../../../src/core/plan/index.ts'
import type { Plan } from '../../../src/core/plan/index.ts'
import { railsCreateDeriver } from '../../../src/core/rails/index.ts'
import { planRead } from '../../../src/formats/planjson.ts'
import { withCornerMoved } from '../../support/bigPlan.ts'

function demo(): Plan {
  const read = planRead(readFileSync(join('public', 'demo', 'fennimore.json'), 'utf8'))
  if (!read.ok) throw new Error(JSON.stringify(read.problem))
  return read.plan
}

type Edit = (plan: Plan) => Plan

const set = <T extends 'turnouts' | 'tracks' | 'railJoints'>(table: T, id: string, change: object): Edit => {
  return (plan) => ({ ...plan, [table]: { ...plan[table], [id]: { ...plan[table][id], ...change } } })
}
const rules = (change: Partial<Plan['railway']['laying']>): Edit => {
  return (plan) => ({ ...plan, railway: { ...plan.railway, laying: { ...plan.railway.laying, ...change } } })
}

const edits: readonly (readonly [string, Edit])[] = [
  ['a corner of the coal drop moved', (plan) => withCornerMoved(plan, 'track-9', 'corner-2', 3, -2)],
  ['a turnout moved along the main', set('turnouts', 'turnout-9', { stationMm: 7480 })],
  ['a joint of the builder’s', set('railJoints', 'joint-1', { id: 'joint-1', track: 'track-1', rail: 'left', stationMm: 2500 })],
  ['the same joint moved', set('railJoints', 'joint-1', { stationMm: 2541 })],
  [
    'a larger stagger',
    (plan) => {
      const { joints } = plan.railway.laying
      return rules({ joints: { ...joints, staggerMm: joints.staggerMm + 30 } })(plan)
    },
  ],
  ['a name', set('tracks', 'track-1', { name: 'Harbour main' })],
  [
    'a track less',
    (plan) => ({
      ...plan,
      tracks: Object.fromEntries(Object.entries(plan.tracks).filter(([id]) => id !== 'track-9')),
      turnouts: plan.turnouts,
    }),
  ],
]

describe('rails made anew after an edit', () => {
  it('are the same as those made from nothing, whatever was edited before', () => {
    const derive = pipelineCreate()
    const railsOf = railsCreateDeriver()
    let plan = demo()
    railsOf(derive.derive(plan))
    for (const [what, edit] of edits) {
      // As a worker gets it: a copy, in which only what says the same is the same object again.
      plan = dataShared(plan, structuredClone(edit(plan)))
      const derived = derive.derive(plan)
      expect(railsOf(derived), what).toEqual(railsCreateDeriver()(derived))
    }
  })
})
