import { pipelineCreate } from '../src/core/pipeline/index.ts'
import { dataShared } from '../src/core/plan/index.ts'
import type { Plan } from '../src/core/plan/index.ts'
import { railsCreateDeriver } from '../src/core/rails/index.ts'
import { bigPlan, withCornerMoved } from '../tests/support/bigPlan.ts'
import { median, type BenchRow, type BenchTable } from './report.ts'

const targetSeconds = 1
const steps = 9

const withJoint = (plan: Plan, stationMm: number): Plan => ({
  ...plan,
  railJoints: { 'joint-1': { id: 'joint-1', track: 'track-main-3', rail: 'left', stationMm } },
})

/** Rails of a whole plan with joints, pieces and marks: from scratch, and after an edit as a worker gets it, a copy of the plan. */
export function benchRails(): BenchTable {
  const plan = bigPlan()
  const pipeline = pipelineCreate()
  const railsOf = railsCreateDeriver()
  const timed = (now: Plan): number => {
    const derived = pipeline.derive(now)
    const from = performance.now()
    railsOf(derived)
    return (performance.now() - from) / 1000
  }
  const scratch = timed(plan)
  const work = railsOf(pipeline.derive(plan))
  const edits: readonly (readonly [string, (step: number) => Plan])[] = [
    ['corner of a main that carries four turnouts', (step) => withCornerMoved(plan, 'track-main-3', 'pi-2', step, step)],
    ['corner of a track that stands alone', (step) => withCornerMoved(plan, 'track-lone-3-1', 'pi-2', step, step)],
    ['joint of the builder’s moved along a main', (step) => withJoint(plan, 3000 + 10 * step)],
  ]
  let before = plan
  let isMet = work.isProven
  const rows = edits.map(([what, edit]): BenchRow => {
    const seconds = Array.from({ length: steps }, (_, step) => {
      before = dataShared(before, structuredClone(edit(step + 1)))
      return timed(before)
    })
    const middle = median(seconds.toSorted((a, b) => a - b))
    isMet &&= middle <= targetSeconds
    return { what, figure: `${middle.toFixed(2)} s`, note: `median of ${steps}; longest ${Math.max(...seconds).toFixed(2)} s` }
  })
  return {
    title: 'Rails of a plan: one edit',
    target: `rails of 200 tracks within ${targetSeconds} s after an edit, their joints proven the best`,
    isMet,
    rows: [
      {
        what: 'everything from scratch',
        figure: `${scratch.toFixed(2)} s`,
        note: `200 tracks, 100 turnouts: ${work.pieces.length} pieces, ${work.joints.length} joints, ${work.isProven ? 'proven' : 'not proven'}`,
      },
      ...rows,
    ],
  }
}
