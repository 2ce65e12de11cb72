import type { Point } from '../../geom/types.ts'
import { designAgainst, designTraverse } from './fitted.ts'
import type { Fitted } from './fitted.ts'
import { isStray, offsetsCut } from './offsets.ts'
import type { Work } from './refine.ts'
import type { Measured, TraceOptions, TraceResidual, TraceSolution } from './types.ts'

/** The fit told of all points that were given, those that did not count too. */
export function traceSolution(fitted: Fitted, given: readonly Point[], turned: Measured, options: TraceOptions, work: Work): TraceSolution {
  const { path } = fitted.alignment
  // Where the kept points lie tells where their neighbours are looked for.
  const known = new Map(turned.indices.map((index, i) => [index, fitted.stationsMm[i] ?? 0]))
  const expected = given.map((_, index) => {
    for (let apart = 0; apart < given.length; apart++) {
      const station = known.get(index - apart) ?? known.get(index + apart)
      if (station !== undefined) return station
    }
    return 0
  })
  const all = designAgainst(fitted.frame, fitted.design, given, (i) => expected[i] ?? 0) ?? fitted
  const cutMm = offsetsCut(fitted.offsetsMm, options)
  const residuals = given.map((_, index): TraceResidual => {
    const offsetMm = all.offsetsMm[index] ?? 0
    const isOutlier = isStray(all.offsetsMm, index, cutMm) && options.verdicts?.has(index) !== true
    return { index, stationMm: all.stationsMm[index] ?? 0, offsetMm, isOutlier }
  })
  const isGood = ({ index, isOutlier }: TraceResidual): boolean => !isOutlier && options.verdicts?.get(index) !== 'leftOut'
  const good = residuals.filter(isGood).map(({ offsetMm }) => Math.abs(offsetMm))
  const worstMm = good.reduce((most, offset) => Math.max(most, offset), 0)
  return {
    traverse: designTraverse(fitted.frame, fitted.design),
    path,
    residuals,
    outliers: residuals.flatMap(({ index, isOutlier }) => (isOutlier ? [index] : [])),
    rmsMm: Math.sqrt(good.reduce((sum, offset) => sum + offset * offset, 0) / Math.max(1, good.length)),
    worstMm,
    isWithin: worstMm <= options.toleranceMm,
    noiseMm: turned.noiseMm,
    rounds: work.rounds,
    ended: work.isStopped ? 'stopped' : 'settled',
  }
}
