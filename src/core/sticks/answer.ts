import type { Sticks } from './fit.ts'
import type { Instance } from './instance.ts'
import type { CutMeasure, CutPiece, CutPlan, CutRequest, CutResult, PlacedPiece, StickCut } from './types.ts'

interface Found {
  readonly best: Sticks
  readonly firstFit: Sticks
  /** Micrometres. */
  readonly bound: number
  readonly ended: CutPlan['ended']
}

/** What was found, with the pieces at their places on the sticks. */
export function planOf(request: CutRequest, instance: Instance, { best, firstFit, bound, ended }: Found): CutResult {
  const missing = best.filter(({ stock }) => !instance.stocks[stock]?.stock)
  if (missing.length > 0) {
    const lost = placed(instance, missing, request)
    const pieces = lost.flatMap((stick) => stick.pieces)
    return {
      ok: false,
      problem: {
        kind: 'notEnough',
        missingPieces: pieces.map(({ id }) => id),
        missingMm: pieces.reduce((sum, { lengthMm }) => sum + lengthMm, 0),
        missingSticks: missing.length,
        longestMm: Math.max(...request.stocks.filter(({ count }) => count !== 0).map(({ lengthMm }) => lengthMm)),
        isProven: bound >= Math.min(...instance.stocks.filter(({ stock }) => !stock).map(({ prime }) => prime)),
      },
    }
  }
  const sticks = placed(instance, best, request)
  const prime = best.reduce((sum, { stock }) => sum + (instance.stocks[stock]?.prime ?? 0), 0)
  const primes = new Set(instance.stocks.filter(({ stock, prime: one }) => stock && one > 0).map(({ prime: one }) => one))
  const [only] = primes
  const isFirstFitWhole = firstFit.every(({ stock }) => instance.stocks[stock]?.stock)
  return {
    ok: true,
    plan: {
      ...measured(request, sticks),
      sticks,
      boundMm: bound / 1000,
      boundSticks: primes.size === 1 && only !== undefined ? Math.round(bound / only) : null,
      isProven: prime <= bound,
      gap: prime <= bound ? 0 : (prime - bound) / prime,
      firstFit: isFirstFitWhole ? measured(request, placed(instance, firstFit, request)) : null,
      ended,
    },
  }
}

function placed(instance: Instance, sticks: Sticks, { kerfMm, leastOffcutMm }: CutRequest): readonly StickCut[] {
  const open = instance.kinds.map(({ pieces }) => [...pieces])
  return sticks.map(({ stock, kinds }): StickCut => {
    const lengthMm = instance.stocks[stock]?.lengthMm ?? 0
    const pieces: PlacedPiece[] = []
    let fromMm = 0
    for (const piece of kinds
      .toSorted((a, b) => a - b)
      .flatMap((kind): CutPiece[] => [open[kind]?.shift()].filter((one) => one !== undefined))) {
      pieces.push({ id: piece.id, fromMm, lengthMm: piece.lengthMm })
      fromMm += piece.lengthMm + kerfMm
    }
    const leftMm = Math.max(0, lengthMm - fromMm)
    return { stock: instance.stocks[stock]?.stock?.id ?? '', lengthMm, pieces, leftMm, isKept: leftMm > 0 && leftMm >= leastOffcutMm }
  })
}

function measured({ stocks }: CutRequest, sticks: readonly StickCut[]): CutMeasure {
  const bought = new Set(stocks.filter(({ isBought }) => isBought).map(({ id }) => id))
  const buys = sticks.filter(({ stock }) => bought.has(stock))
  const sum = (of: readonly number[]): number => of.reduce((a, b) => a + b, 0)
  const pieceMm = sum(sticks.flatMap(({ pieces }) => pieces.map(({ lengthMm }) => lengthMm)))
  return {
    stickCount: sticks.length,
    boughtCount: buys.length,
    boughtMm: sum(buys.map(({ lengthMm }) => lengthMm)),
    wasteMm: Math.max(0, sum(sticks.map(({ lengthMm, leftMm, isKept }) => lengthMm - (isKept ? leftMm : 0))) - pieceMm),
  }
}
