import type { LengthRequest, LengthResult } from '../../src/core/roadbed/index.ts'

/** Lengths put on lengths by first fit, longest first, what is at hand before what is bought: enough to try what asks for it. */
export async function fitLengths({ pieces, stocks, kerfMm, leastOffcutMm }: LengthRequest): Promise<LengthResult<string>> {
  const open: { stock: string; lengthMm: number; atMm: number; pieces: { id: string; fromMm: number; lengthMm: number }[] }[] = []
  const left = new Map(stocks.map(({ id, count }) => [id, count ?? Infinity]))
  for (const piece of pieces.toSorted((a, b) => b.lengthMm - a.lengthMm)) {
    let stick = open.find(({ lengthMm, atMm }) => atMm + piece.lengthMm <= lengthMm + 1e-6)
    if (!stick) {
      const stock = stocks.find(({ id, lengthMm }) => (left.get(id) ?? 0) > 0 && lengthMm >= piece.lengthMm - 1e-6)
      if (!stock) return { ok: false, problem: `nothing for ${piece.id}` }
      left.set(stock.id, (left.get(stock.id) ?? 0) - 1)
      stick = { stock: stock.id, lengthMm: stock.lengthMm, atMm: 0, pieces: [] }
      open.push(stick)
    }
    stick.pieces.push({ id: piece.id, fromMm: stick.atMm, lengthMm: piece.lengthMm })
    stick.atMm += piece.lengthMm + kerfMm
  }
  const sticks = open.map(({ stock, lengthMm, atMm, pieces: cut }) => {
    const leftMm = Math.max(0, lengthMm - atMm)
    return { stock, pieces: cut, leftMm, isKept: leftMm > leastOffcutMm }
  })
  return { ok: true, plan: { sticks, isProven: false } }
}
