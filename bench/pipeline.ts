import { pipelineCreate } from '../src/core/pipeline/index.ts'
import type { Plan } from '../src/core/plan/index.ts'
import { bigPlan, withCornerMoved } from '../tests/support/bigPlan.ts'
import { median, secondsPerRound } from './report.ts'
import type { BenchRow, BenchTable } from './report.ts'

const targetRatio = 30
const scratchRounds = 15
const dragRounds = 200

/** A PI to be dragged, and what hangs on it. */
const drags = [
  { what: 'PI of a main with four turnouts, behind them', track: 'track-main-12', corner: 'pi-3' },
  { what: 'PI of a main that carries its four turnouts and their spurs along', track: 'track-main-12', corner: 'pi-1' },
  { what: 'PI of a spur on a turnout leg', track: 'track-spur-12-1', corner: 'pi-2' },
  { what: 'PI of a track without turnouts', track: 'track-lone-12-1', corner: 'pi-2' },
] as const

/** One drag step of a PI through the remembering pipeline against everything anew, in a plan of 200 tracks and 100 turnouts. */
export function benchPipeline(): BenchTable {
  const plan = bigPlan()
  const sink = { ties: 0 }
  const count = (derivedFrom: Plan, pipeline = pipelineCreate()): void => {
    for (const { ties } of pipeline.derive(derivedFrom).trackwork.tracks.values()) sink.ties += ties.length
  }
  const scratch = median(secondsPerRound(scratchRounds, () => count(plan)))
  const steps = drags.map(({ what, track, corner }) => {
    const pipeline = pipelineCreate()
    pipeline.derive(plan)
    // Plans are made before the clock runs: the edit is not what is measured.
    const plans = Array.from({ length: dragRounds + 2 }, (_, step) => withCornerMoved(plan, track, corner, 0.1 * step, 0.05 * step))
    let next = 0
    const seconds = median(
      secondsPerRound(dragRounds, () => {
        const dragged = plans[next++]
        if (dragged) pipeline.derive(dragged)
      }),
    )
    return { what, seconds, ratio: scratch / seconds }
  })
  const ms = (seconds: number): string => `${(seconds * 1000).toFixed(3)} ms`
  const rows: BenchRow[] = [
    { what: 'everything from scratch', figure: ms(scratch), note: `200 tracks, 100 turnouts; median of ${scratchRounds}` },
    ...steps.map(({ what, seconds, ratio }) => ({
      what,
      figure: ms(seconds),
      note: `1/${ratio.toFixed(0)} of from scratch; median of ${dragRounds}`,
    })),
  ]
  return {
    title: 'Deriving a plan: one drag step',
    target: `one drag step of a PI at most 1/${targetRatio} of deriving everything from scratch, whatever PI it is`,
    isMet: steps.every(({ ratio }) => ratio >= targetRatio),
    rows,
  }
}
