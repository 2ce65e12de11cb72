import { checksCreateRunner, findingsOf } from '../src/core/checks/index.ts'
import { pipelineCreate } from '../src/core/pipeline/index.ts'
import { bigPlan, withCornerMoved } from '../tests/support/bigPlan.ts'
import { median, secondsPerRound } from './report.ts'
import type { BenchRow, BenchTable } from './report.ts'

const targetRatio = 10
const scratchRounds = 9
const dragRounds = 100

const drags = [
  { what: 'PI of a main that carries four turnouts and their spurs along', track: 'track-main-12', corner: 'pi-1' },
  { what: 'PI of a main behind its turnouts', track: 'track-main-12', corner: 'pi-3' },
  { what: 'PI of a spur on a turnout leg', track: 'track-spur-12-1', corner: 'pi-2' },
  { what: 'PI of a track without turnouts', track: 'track-lone-12-1', corner: 'pi-2' },
] as const

/** Checking after one drag step with what is remembered, against checking everything anew; the deriving itself is not counted. */
export function benchChecks(): BenchTable {
  const plan = bigPlan()
  const sink = { findings: 0 }
  const derived = pipelineCreate().derive(plan)
  const scratch = median(
    secondsPerRound(scratchRounds, () => {
      sink.findings += findingsOf(derived).length
    }),
  )
  const steps = drags.map(({ what, track, corner }) => {
    const pipeline = pipelineCreate()
    const check = checksCreateRunner()
    check(pipeline.derive(plan))
    const dragged = Array.from({ length: dragRounds + 2 }, (_, step) =>
      pipeline.derive(withCornerMoved(plan, track, corner, 0.1 * step, 0.05 * step)),
    )
    let next = 0
    const seconds = median(
      secondsPerRound(dragRounds, () => {
        const one = dragged[next++]
        if (one) sink.findings += check(one).length
      }),
    )
    return { what, seconds, ratio: scratch / seconds }
  })
  const ms = (seconds: number): string => `${(seconds * 1000).toFixed(2)} ms`
  const rows: BenchRow[] = [
    { what: 'everything from scratch', figure: ms(scratch), note: `200 tracks, 100 turnouts; median of ${scratchRounds}` },
    ...steps.map(({ what, seconds, ratio }) => ({
      what,
      figure: ms(seconds),
      note: `1/${ratio.toFixed(0)} of from scratch; median of ${dragRounds}`,
    })),
  ]
  return {
    title: 'Checking a plan: one drag step',
    target: `one drag step of a PI at most 1/${targetRatio} of checking everything from scratch`,
    isMet: steps.every(({ ratio }) => ratio >= targetRatio),
    rows,
  }
}
