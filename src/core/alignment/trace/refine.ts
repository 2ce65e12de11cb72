import type { Point } from '../../geom/types.ts'
import { choleskySolve } from './cholesky.ts'
import { designChanged, designUnknowns, normalEquations } from './equations.ts'
import { designAgainst } from './fitted.ts'
import type { Fitted } from './fitted.ts'
import { agreedWorst, offsetsWeights, weighed } from './offsets.ts'
import type { Weighing } from './offsets.ts'
import type { TraceProgress, TraceWish } from './types.ts'

/** How long the search has been going on, and whether it has been told to stop. */
export interface Work {
  rounds: number
  isStopped: boolean
}

/** Rounds of least squares at most, and the fall of the error that ends them. */
const ROUNDS = 25
const SETTLED = 1e-7

const LEAST_DAMPING = 1e-9
const MOST_DAMPING = 1e7

/**
 * Least squares with damped Gauss-Newton steps (Levenberg, Marquardt) on PIs, radii and easements; far points weighed less
 * after Huber, and those beyond the cut not at all.
 *
 * Exactness:  for points that lie on such a line, to rounding of the distance.
 * Outcome:    the best line, never worse than the first. Says how far it is at each step, and ends early when told to.
 */
export function* designRefine(
  work: Work,
  first: Fitted,
  points: readonly Point[],
  weighing: Weighing,
  mostRounds = ROUNDS,
): Generator<TraceProgress, Fitted, TraceWish> {
  let fitted = first
  let damping = 1e-3
  for (let round = 0; round < mostRounds && damping < MOST_DAMPING && !work.isStopped; round++) {
    work.rounds++
    const worstMm = agreedWorst(fitted.offsetsMm, weighing.held)
    const wish = yield { rounds: work.rounds, corners: fitted.design.corners.length, worstMm }
    if (wish === 'stop') work.isStopped = true
    const weights = offsetsWeights(fitted.offsetsMm, weighing)
    const error = weighed(fitted.offsetsMm, weights)
    const unknowns = designUnknowns(fitted)
    const { matrix, right } = normalEquations(fitted, unknowns, weights)
    let isBetter = false
    let fall = 0
    while (!isBetter && damping < MOST_DAMPING) {
      const by = choleskySolve(damped(matrix, damping), right)
      const stepped = by && designChanged(fitted.frame, fitted.design, unknowns, by)
      const { stationsMm } = fitted
      const { lengthMm } = fitted.alignment.path
      const next =
        stepped && designAgainst(stepped.frame, stepped.design, points, (i, path) => ((stationsMm[i] ?? 0) * path.lengthMm) / lengthMm)
      const nextError = next === null ? Infinity : weighed(next.offsetsMm, weights)
      if (next !== null && nextError < error) {
        fall = error - nextError
        fitted = next
        isBetter = true
        damping = Math.max(LEAST_DAMPING, damping / 8)
      } else damping *= 6
    }
    if (!isBetter || fall < SETTLED * error) break
  }
  return fitted
}

function damped(matrix: readonly (readonly number[])[], damping: number): number[][] {
  const most = Math.max(...matrix.map((row, i) => row[i] ?? 0))
  return matrix.map((row, i) => row.map((value, j) => (i === j ? value + damping * Math.max(value, most * 1e-9) : value)))
}
