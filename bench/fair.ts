import { fairRounds } from '../src/core/alignment/index.ts'
import type { FairAnswer, FairRequest, LinearSolve } from '../src/core/alignment/index.ts'
import { fairByDescent } from '../tests/support/fairDescent.ts'
import { aFairCorner, aFairRequest, ring, solve } from '../tests/support/fairing.ts'
import type { BenchRow, BenchTable } from './report.ts'

/** A few seconds: what a person waits for with a number that climbs before the eyes. */
const targetSeconds = 6

/** A line of twelve PIs round a furnished room of 3.5 by 2.75 m: walls, an inner edge with a peninsula, a post. */
function room(): FairRequest {
  const corners = [
    [500, 120],
    [900, 200],
    [1400, 260],
    [1900, 330],
    [2500, 180],
    [3300, 230],
    [3250, 900],
    [3330, 1500],
    [3260, 2500],
    [2400, 2450],
    [1500, 2550],
    [300, 2500],
  ].map(([x = 0, y = 0]) => aFairCorner(x, y))
  return aFairRequest({
    start: { kind: 'free', at: { x: 150, y: 150 } },
    corners,
    end: { kind: 'free', at: { x: 150, y: 1500 } },
    selfKeepMm: 50,
    corridor: {
      chains: [
        ring(
          [
            [0, 0],
            [3500, 0],
            [3500, 2750],
            [0, 2750],
          ],
          50,
          'walls',
        ),
        ring(
          [
            [460, 1400],
            [460, 460],
            [1300, 460],
            [1300, 1500],
            [2000, 1500],
            [2000, 500],
            [2700, 460],
            [3000, 760],
            [3000, 2000],
            [2750, 2240],
            [760, 2240],
            [460, 2100],
          ],
          25,
          'benchworks',
        ),
        ring(
          [
            [1200, 20],
            [1290, 20],
            [1290, 60],
            [1200, 60],
          ],
          30,
          'obstacles',
        ),
      ],
    },
  })
}

interface Run {
  readonly seconds: number
  readonly radiusMm: number
  readonly rounds: number
  readonly solverSeconds: number
}

function easing(request: FairRequest): Run {
  let solverSeconds = 0
  const timed: LinearSolve = (program) => {
    const from = performance.now()
    const outcome = solve(program)
    solverSeconds += (performance.now() - from) / 1000
    return outcome
  }
  const from = performance.now()
  const steps = fairRounds(request, timed)
  let next = steps.next()
  while (next.done !== true) next = steps.next('goOn')
  const answer: FairAnswer = next.value
  const seconds = (performance.now() - from) / 1000
  if (!answer.ok) throw new Error(`the room of the bench must be eased: ${JSON.stringify(answer.problem)}`)
  return { seconds, radiusMm: answer.fair.after.minRadiusMm, rounds: answer.fair.rounds, solverSeconds }
}

/** Easing the furnished room, against the plain descent from the same start. */
export function benchFair(): BenchTable {
  const request = room()
  easing({ ...request, roundsMost: 20 })
  const quick = easing({ ...request, roundsMost: 60 })
  const full = easing(request)
  const from = performance.now()
  const descentMm = fairByDescent(request)
  const descentSeconds = (performance.now() - from) / 1000
  const row = (what: string, run: Run): BenchRow => ({
    what,
    figure: `${run.seconds.toFixed(1)} s`,
    note: `minimum radius 150 mm → ${run.radiusMm.toFixed(0)} mm; ${run.rounds} rounds, ${((100 * run.solverSeconds) / run.seconds).toFixed(0)} % of it in the solver`,
  })
  return {
    title: 'Easing a line of twelve PIs in a furnished room',
    target: `at most ${targetSeconds} s for all rounds, and a larger minimum radius than the plain descent`,
    isMet: full.seconds <= targetSeconds && full.radiusMm > descentMm,
    rows: [
      row('60 rounds', quick),
      row('400 rounds', full),
      {
        what: 'plain descent, one PI at a time',
        figure: `${descentSeconds.toFixed(1)} s`,
        note: `${descentMm.toFixed(0)} mm; easing reaches ${(full.radiusMm / descentMm).toFixed(2)} times that and takes ${(full.seconds / descentSeconds).toFixed(1)} times as long`,
      },
    ],
  }
}
