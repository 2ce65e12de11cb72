import type { CutMeasure, CutRequest, CutResult } from '../../src/core/sticks/types.ts'

/** Lengths put on lengths by first fit, longest first, what is at hand before what is bought: enough to try what asks for it. */
export async function fitLengths({ pieces, stocks, kerfMm, leastOffcutMm }: CutRequest): Promise<CutResult> {
  const open: { stock: string; lengthMm: number; atMm: number; pieces: { id: string; fromMm: number; lengthMm: number }[] }[] = []
  const left = new Map(stocks.map(({ id, count }) => [id, count ?? Infinity]))
  const longestMm = Math.max(0, ...stocks.map(({ lengthMm }) => lengthMm))
  for (const piece of pieces.toSorted((a, b) => b.lengthMm - a.lengthMm)) {
    let stick = open.find(({ lengthMm, atMm }) => atMm + piece.lengthMm <= lengthMm + 1e-6)
    if (!stick) {
      const stock = stocks.find(({ id, lengthMm }) => (left.get(id) ?? 0) > 0 && lengthMm >= piece.lengthMm - 1e-6)
      if (!stock) {
        const missing = { missingPieces: [piece.id], missingMm: piece.lengthMm, missingSticks: 1, longestMm }
        return { ok: false, problem: { kind: 'notEnough', ...missing, isProven: false } }
      }
      left.set(stock.id, (left.get(stock.id) ?? 0) - 1)
      stick = { stock: stock.id, lengthMm: stock.lengthMm, atMm: 0, pieces: [] }
      open.push(stick)
    }
    stick.pieces.push({ id: piece.id, fromMm: stick.atMm, lengthMm: piece.lengthMm })
    stick.atMm += piece.lengthMm + kerfMm
  }
  const sticks = open.map(({ stock, lengthMm, atMm, pieces: cut }) => {
    const leftMm = Math.max(0, lengthMm - atMm)
    return { stock, lengthMm, pieces: cut, leftMm, isKept: leftMm >= leastOffcutMm }
  })
  const bought = sticks.filter(({ stock }) => stocks.some(({ id, isBought }) => id === stock && isBought))
  const usedMm = pieces.reduce((sum, { lengthMm }) => sum + lengthMm, 0)
  const measure: CutMeasure = {
    stickCount: sticks.length,
    boughtCount: bought.length,
    boughtMm: bought.reduce((sum, { lengthMm }) => sum + lengthMm, 0),
    wasteMm: sticks.reduce((sum, { lengthMm, leftMm, isKept }) => sum + lengthMm - (isKept ? leftMm : 0), 0) - usedMm,
  }
  return {
    ok: true,
    plan: { sticks, ...measure, boundMm: 0, boundSticks: null, isProven: false, gap: 1, firstFit: measure, ended: 'done' },
  }
}
