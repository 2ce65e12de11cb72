import type { CutMeasure } from '../src/core/sticks/index.ts'
import { cutPlanned, numbersOf, randomList } from '../tests/support/cutting.ts'
import { median, type BenchRow, type BenchTable } from './report.ts'

const targetSeconds = 1
const lists = 5

/** Lists of rail pieces on sticks of 3 ft: time until nothing better is left to find, and sticks and waste beside first fit, longest first. */
export function benchCut(): BenchTable {
  const next = numbersOf(11)
  cutPlanned(randomList(40, next))
  let isMet = true
  const rows = [60, 250, 500].map((count): BenchRow => {
    const runs = Array.from({ length: lists }, () => {
      const request = randomList(count, next)
      const from = performance.now()
      const plan = cutPlanned(request)
      return { seconds: (performance.now() - from) / 1000, plan }
    })
    const sum = (of: (measure: CutMeasure) => number, which: 'best' | 'firstFit'): number =>
      runs.reduce((total, { plan }) => total + of(which === 'best' ? plan : (plan.firstFit ?? plan)), 0)
    const sticks = [sum(({ stickCount }) => stickCount, 'best'), sum(({ stickCount }) => stickCount, 'firstFit')] as const
    const waste = sum(({ wasteMm }) => wasteMm, 'best') / sum(({ wasteMm }) => wasteMm, 'firstFit')
    const seconds = runs.map((run) => run.seconds).toSorted((a, b) => a - b)
    const proven = runs.filter(({ plan }) => plan.isProven).length
    const middle = median(seconds)
    if (count === 250) isMet &&= middle <= targetSeconds
    isMet &&= runs.every(({ plan }) => plan.gap < 0.01 && plan.stickCount <= (plan.firstFit?.stickCount ?? Infinity))
    return {
      what: `${count} pieces`,
      figure: `${middle.toFixed(2)} s`,
      note: `${lists} lists, longest ${(seconds.at(-1) ?? Number.NaN).toFixed(2)} s; ${proven} proven; ${sticks[0]} sticks where first fit takes ${sticks[1]}; waste ${waste.toFixed(2)} of first fit's`,
    }
  })
  return {
    title: 'Cutting pieces from sticks',
    target: `250 pieces in ${targetSeconds} s (median), every gap under 1 %, and never more sticks than first fit`,
    isMet,
    rows,
  }
}
