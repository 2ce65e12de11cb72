import { describe, expect, it } from 'vitest'
import { cutRounds } from '../../../src/core/sticks/index.ts'
import type { CutRequest } from '../../../src/core/sticks/index.ts'
import { cutBy, cutWhole } from '../../support/cutting.ts'

const rail = { id: 'rail', lengthMm: 900, count: null, isBought: true } as const
const of = (lengths: readonly number[], change: Partial<CutRequest> = {}): CutRequest => ({
  pieces: lengths.map((lengthMm, i) => ({ id: `p${i}`, lengthMm })),
  stocks: [rail],
  kerfMm: 1,
  leastOffcutMm: 50,
  ...change,
})

describe('a stick and its cuts', () => {
  it('loses no cut where the last piece ends with it', () => {
    // 449.5 + 1 + 449.5 = 900: two pieces and one cut.
    const result = cutWhole(of([449.5, 449.5]))
    expect(result.ok && result.plan).toMatchObject({ stickCount: 1, boughtCount: 1, boughtMm: 900, wasteMm: 1 })
    expect(result.ok && result.plan.sticks[0]?.leftMm).toBe(0)
  })

  it('loses the cut at the end of the last piece, and keeps what is long enough', () => {
    // 400 + 1 + 300 + 1 leaves 198.
    const result = cutWhole(of([300, 400]))
    const [stick] = result.ok ? result.plan.sticks : []
    expect(stick?.pieces.map(({ id, fromMm }) => [id, fromMm])).toEqual([
      ['p1', 0],
      ['p0', 401],
    ])
    expect([stick?.leftMm, stick?.isKept, result.ok && result.plan.wasteMm]).toEqual([198, true, 2])
  })

  it('buys the shorter of two lengths where that is enough', () => {
    // 900 alone: 2 sticks, 1800 mm. 900 and 600 hold 450 + 440 and 450: 1500 mm, and none holds less.
    const stocks = [rail, { id: 'short', lengthMm: 600, count: null, isBought: true }]
    const result = cutWhole(of([450, 450, 440], { stocks }))
    expect(result.ok && result.plan).toMatchObject({ boughtCount: 2, boughtMm: 1500, isProven: true, boundSticks: null })
  })

  it('takes three thirds out of a stick', () => {
    const result = cutWhole(
      of(
        [300, 300, 300].map((mm) => mm + 1 / 3),
        { stocks: [{ ...rail, lengthMm: 901 }], kerfMm: 0 },
      ),
    )
    expect(result.ok && result.plan.stickCount).toBe(1)
  })

  it('takes what is at hand before it buys', () => {
    const stocks = [rail, { id: 'end', lengthMm: 500, count: 1, isBought: false }]
    const result = cutWhole(of([450, 450, 440], { stocks }))
    expect(result.ok && result.plan).toMatchObject({ stickCount: 2, boughtMm: 900 })
    expect(result.ok && result.plan.sticks.map(({ stock }) => stock).toSorted()).toEqual(['end', 'rail'])
  })
})

describe('what cannot be cut', () => {
  it.each<[string, CutRequest, object]>([
    ['a negative kerf', of([100], { kerfMm: -1 }), { kind: 'badKerf', value: -1, wouldDo: 0.5 }],
    ['a piece of no length', of([100, NaN]), { kind: 'badPiece', piece: 'p1', value: NaN }],
    ['a kerf that is no number', of([100], { kerfMm: NaN }), { kind: 'badKerf' }],
    ['a least offcut below 0', of([100], { leastOffcutMm: -1 }), { kind: 'badLeastOffcut', value: -1, wouldDo: 0 }],
    ['half a stick', of([100], { stocks: [{ ...rail, count: 0.5 }] }), { kind: 'badStock', stock: 'rail', what: 'count', value: 0.5 }],
    ['no stock', of([100], { stocks: [] }), { kind: 'noStock' }],
    ['stock that is used up', of([100], { stocks: [{ ...rail, count: 0 }] }), { kind: 'noStock' }],
    ['a piece longer than any stock', of([100, 901]), { kind: 'pieceTooLong', piece: 'p1', lengthMm: 901, longestMm: 900 }],
    [
      'more than there is',
      of([500, 500, 500], { stocks: [{ ...rail, count: 2 }] }),
      { kind: 'notEnough', missingMm: 500, missingSticks: 1, longestMm: 900, isProven: true },
    ],
  ])('%s', (_, request, problem) => {
    expect(cutWhole(request)).toMatchObject({ ok: false, problem })
  })

  it('nothing at all is a plan of no sticks', () => {
    expect(cutWhole(of([]))).toMatchObject({ ok: true, plan: { sticks: [], isProven: true } })
  })
})

describe('a long search', () => {
  it('that is stopped gives the best so far and how far it may be from the best there is', () => {
    const lengths = Array.from({ length: 40 }, (_, i) => 200 + ((i * 137) % 430))
    const rounds = cutRounds(of(lengths), cutBy, { wholeSeconds: 1 })
    expect(rounds.next().value).toMatchObject({ boundMm: expect.any(Number) as number })
    const stopped = rounds.next('stop')
    if (stopped.done !== true || !stopped.value.ok) throw new Error('it went on')
    const { plan } = stopped.value
    expect(plan.sticks.flatMap(({ pieces }) => pieces).length).toBe(40)
    expect(plan.gap).toBeCloseTo((plan.boughtMm - plan.boundMm) / plan.boughtMm, 12)
  })
})
