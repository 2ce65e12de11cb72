import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { CutPlan, CutRequest } from '../../../src/core/sticks/index.ts'
import { cutPlanned, cutWhole, numbersOf, randomList } from '../../support/cutting.ts'

/** Every piece once, within its stick, a cut apart from the next; stock at hand not used up twice. */
function holds({ pieces, stocks, kerfMm, leastOffcutMm }: CutRequest, plan: CutPlan): void {
  expect(plan.sticks.flatMap((stick) => stick.pieces.map(({ id }) => id)).toSorted()).toEqual(pieces.map(({ id }) => id).toSorted())
  for (const { pieces: laid, lengthMm, leftMm, isKept } of plan.sticks) {
    let at = 0
    for (const [i, piece] of laid.entries()) {
      expect(piece.fromMm).toBeCloseTo(at, 6)
      at += piece.lengthMm + (i < laid.length - 1 ? kerfMm : 0)
    }
    expect(at).toBeLessThanOrEqual(lengthMm + 1e-6)
    expect(leftMm).toBeCloseTo(Math.max(0, lengthMm - at - kerfMm), 6)
    expect(isKept).toBe(leftMm > 0 && leftMm >= leastOffcutMm)
  }
  for (const { id, count } of stocks) {
    if (count !== null) expect(plan.sticks.filter(({ stock }) => stock === id).length).toBeLessThanOrEqual(count)
  }
}

/** Least length bought, by trying every way to put each piece on an open stick or a new one. */
function bruteForce(
  { pieces, stocks, kerfMm }: CutRequest,
  counts: (stock: CutRequest['stocks'][number]) => boolean = ({ isBought }) => isBought,
): number {
  const sorted = pieces.map(({ lengthMm }) => lengthMm).toSorted((a, b) => b - a)
  const used = stocks.map(() => 0)
  const rooms: number[] = []
  let best = Infinity
  const place = (i: number, cost: number): void => {
    if (cost >= best) return
    const length = sorted[i]
    if (length === undefined) {
      best = cost
      return
    }
    const need = length + kerfMm
    for (const [k, room] of rooms.entries()) {
      if (room + 1e-9 < need) continue
      rooms[k] = room - need
      place(i + 1, cost)
      rooms[k] = room
    }
    for (const [s, stock] of stocks.entries()) {
      const { lengthMm, count } = stock
      if (lengthMm + kerfMm + 1e-9 < need || (count !== null && (used[s] ?? 0) >= count)) continue
      used[s] = (used[s] ?? 0) + 1
      rooms.push(lengthMm + kerfMm - need)
      place(i + 1, cost + (counts(stock) ? lengthMm : 0))
      rooms.pop()
      used[s] = (used[s] ?? 0) - 1
    }
  }
  place(0, 0)
  return best
}

describe('pieces cut from sticks', () => {
  it('buys as little as trying everything, from one length or several, with and without sticks at hand', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 40, max: 500 }), { minLength: 1, maxLength: 7 }),
        fc.integer({ min: 0, max: 4 }),
        fc.array(fc.integer({ min: 100, max: 900 }), { maxLength: 2 }),
        fc.option(fc.integer({ min: 500, max: 700 })),
        (lengths, kerfMm, atHand, second) => {
          const request: CutRequest = {
            pieces: lengths.map((lengthMm, i) => ({ id: `p${i}`, lengthMm })),
            stocks: [
              { id: 'rail', lengthMm: 914, count: null, isBought: true },
              ...(second === null ? [] : [{ id: 'short', lengthMm: second, count: null, isBought: true }]),
              ...atHand.map((lengthMm, i) => ({ id: `end ${i}`, lengthMm, count: 1, isBought: false })),
            ],
            kerfMm,
            leastOffcutMm: 100,
          }
          const plan = cutPlanned(request)
          holds(request, plan)
          const least = bruteForce(request)
          expect(plan.boundMm).toBeLessThanOrEqual(least + 1e-6)
          expect(plan.boughtMm).toBeCloseTo(least, 6)
          expect(plan.isProven).toBe(true)
        },
      ),
      { seed: 20261126, numRuns: 120 },
    )
  })

  it('says that there is not enough only where trying everything finds no place either', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 40, max: 400 }), { minLength: 1, maxLength: 6 }),
        fc.array(fc.integer({ min: 400, max: 700 }), { minLength: 1, maxLength: 3 }),
        (lengths, atHand) => {
          const request: CutRequest = {
            pieces: lengths.map((lengthMm, i) => ({ id: `p${i}`, lengthMm })),
            stocks: atHand.map((lengthMm, i) => ({ id: `end ${i}`, lengthMm, count: 1, isBought: false })),
            kerfMm: 1,
            leastOffcutMm: 100,
          }
          const result = cutWhole(request)
          const least = bruteForce(request, () => true)
          if (result.ok) {
            holds(request, result.plan)
            expect(result.plan.sticks.reduce((sum, { lengthMm }) => sum + lengthMm, 0)).toBeCloseTo(least, 6)
          } else {
            expect(result.problem.kind).toBe('notEnough')
            expect(least).toBe(Infinity)
          }
        },
      ),
      { seed: 20261126, numRuns: 80 },
    )
  })

  it('reaches the bound on 95 of 100 lists and is never more than one stick over it, nor over the first that fits', () => {
    const next = numbersOf(7)
    let reached = 0
    for (let list = 0; list < 200; list++) {
      const request = randomList(20 + Math.floor(next() * 40), next)
      const plan = cutPlanned(request)
      if (list % 20 === 0) holds(request, plan)
      if (plan.isProven) reached += 1
      expect(plan.stickCount - (plan.boundSticks ?? Number.NaN)).toBeLessThanOrEqual(1)
      expect(plan.stickCount).toBeLessThanOrEqual(plan.firstFit?.stickCount ?? Number.NaN)
    }
    expect(reached).toBeGreaterThanOrEqual(190)
  })
})
