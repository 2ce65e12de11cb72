import { describe, expect, it } from 'vitest'
import type { CutRequest } from '../../../src/core/sticks/index.ts'
import { cutPlanned, numbersOf } from '../../support/cutting.ts'

/** So many pieces of each length, cut from sticks of one length by a blade that takes nothing. */
function listOf(lengthMm: number, wanted: readonly (readonly [length: number, count: number])[]): CutRequest {
  return {
    pieces: wanted.flatMap(([length, count]) => Array.from({ length: count }, (_, i) => ({ id: `${length}-${i}`, lengthMm: length }))),
    stocks: [{ id: 'stick', lengthMm, count: null, isBought: true }],
    kerfMm: 0,
    leastOffcutMm: lengthMm,
  }
}

describe('lists with a known least number of sticks', () => {
  it('rolls of 5600 in thirteen widths: 73 and no fewer', () => {
    // [CUTTING-STOCK]: the widely printed example of paper rolls; 407 160 of 5600 is 72.7 rolls.
    const wanted = [
      [1380, 22],
      [1520, 25],
      [1560, 12],
      [1710, 14],
      [1820, 18],
      [1880, 18],
      [1930, 20],
      [2000, 10],
      [2050, 12],
      [2100, 14],
      [2140, 16],
      [2150, 18],
      [2200, 20],
    ] as const
    expect(cutPlanned(listOf(5600, wanted))).toMatchObject({
      stickCount: 73,
      boundSticks: 73,
      isProven: true,
      wasteMm: 73 * 5600 - 407_160,
    })
  })

  it('rolls of 100 in four widths: 453 by the linear bound of 452.25', () => {
    // [CHVATAL-1983], chapter 13: the widths and orders confirmed, the bound from memory.
    const wanted = [
      [45, 97],
      [36, 610],
      [31, 395],
      [14, 211],
    ] as const
    expect(cutPlanned(listOf(100, wanted))).toMatchObject({ stickCount: 453, boundSticks: 453, isProven: true })
  })

  it('triplets: three pieces fill each stick and nothing is wasted', () => {
    // By construction of [FALKENAUER-1996]: a stick of 1000, the first piece 380 to 490, the second from 250 to half of the rest; as many sticks as triplets.
    const next = numbersOf(3)
    for (const sticks of [10, 20]) {
      const wanted = Array.from({ length: sticks }, () => {
        const first = 380 + Math.floor(next() * 110)
        const second = 250 + Math.floor(next() * ((1000 - first) / 2 - 250))
        return [first, second, 1000 - first - second]
      })
        .flat()
        .map((length): [number, number] => [length, 1])
      const { pieces, ...rest } = listOf(1000, wanted)
      const plan = cutPlanned({ ...rest, pieces: pieces.map((piece, i) => ({ ...piece, id: `p${i}` })) })
      expect([plan.stickCount, plan.isProven, plan.wasteMm]).toEqual([sticks, true, 0])
    }
  })
})
