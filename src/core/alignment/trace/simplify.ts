import type { Design } from '../fair/design.ts'
import { traceCorner } from './begin.ts'
import { designAgainst, noLines } from './fitted.ts'
import type { Fitted } from './fitted.ts'
import { agreedWorst, offsetsCut, offsetsError, weighingOf } from './offsets.ts'
import { designRefine } from './refine.ts'
import type { Work } from './refine.ts'
import type { Measured, TraceOptions, TraceProgress, TraceWish } from './types.ts'

/** Takes away easements and corners that the points do not ask for. worth: what an unknown must take off the squared errors to stay. */
export function* simplified(
  work: Work,
  from: Fitted,
  measured: Measured,
  options: TraceOptions,
  worth: number,
): Generator<TraceProgress, Fitted, TraceWish> {
  const { points, held } = measured
  let fitted = from
  const cutMm = offsetsCut(fitted.offsetsMm, options)
  const errorOf = (one: Fitted): number => one.offsetsMm.reduce((sum, offset) => sum + Math.min(offset * offset, cutMm * cutMm), 0)
  function* attempt(design: Design): Generator<TraceProgress, boolean, TraceWish> {
    const { stationsMm, alignment } = fitted
    const tried = designAgainst(fitted.frame, design, points, (i, path) => ((stationsMm[i] ?? 0) * path.lengthMm) / alignment.path.lengthMm)
    if (tried === null) return false
    const refined = yield* designRefine(work, tried, points, weighingOf(cutMm, options, measured), SIMPLE_ROUNDS)
    const variance = Math.max(offsetsError(fitted.offsetsMm), NEGLIGIBLE_MM) ** 2
    const isWorse = errorOf(refined) - errorOf(fitted) > worth * variance
    const worstMm = agreedWorst(fitted.offsetsMm, held)
    if (isWorse || agreedWorst(refined.offsetsMm, held) > Math.max(options.toleranceMm, worstMm)) return false
    fitted = refined
    return true
  }
  for (let i = fitted.design.corners.length - 1; i >= 0 && !work.isStopped; i--) {
    const { corners } = fitted.design
    const one = corners[i]
    if (one === undefined) continue
    if (Math.abs(fitted.shape.corners[i]?.turnRad ?? 0) < SMALL_TURN_RAD && corners.length > (options.isClosed ? 3 : 0)) {
      if (yield* attempt(noLines(corners.filter((_, n) => n !== i)))) continue
    }
    const [into, out] = [Number(one.source.easementIn), Number(one.source.easementOut)]
    const withEasements = (easementIn: number, easementOut: number): Design =>
      noLines(corners.map((corner, n) => (n === i ? traceCorner(one.at, 1 / one.curvature, easementIn, easementOut) : corner)))
    if (into === 0 && out === 0) continue
    if (yield* attempt(withEasements(0, 0))) continue
    if (into > 0 && out > 0 && (yield* attempt(withEasements(0, out)))) continue
    if (into > 0 && out > 0) yield* attempt(withEasements(into, 0))
  }
  return fitted
}

const SIMPLE_ROUNDS = 8

/** Errors under this are rounding, mm. */
const NEGLIGIBLE_MM = 1e-7

/** Corners that turn less than this, rad, are asked whether they are needed. */
const SMALL_TURN_RAD = 0.12
