import { describe, expect, it } from 'vitest'
import { pipelineCreate } from '../../../src/core/pipeline/index.ts'
import type { Plan, Stock } from '../../../src/core/plan/index.ts'
import { layingLists, shoppingOf } from '../../../src/core/shopping/index.ts'
import { cutProblemText } from '../../../src/words/cutText.ts'
import { layingProblemTexts, shoppingTable } from '../../../src/words/shoppingText.ts'
import { aTrack, planWith } from '../../support/plans.ts'
import { cutWhole } from '../../support/cutting.ts'

const prefs = { units: 'metric', fraction: 16 } as const
const bare = planWith({ tracks: [aTrack()] })

/** The plan of 2 m of straight track with stock changed, each by its kind. */
function planStocked(change: (stock: Stock) => Partial<Stock>, rates: Partial<Plan['railway']['laying']['rates']> = {}): Plan {
  const { laying } = bare.railway
  return planWith({
    tracks: [aTrack()],
    stocks: Object.values(bare.stocks).map((stock) => ({ ...stock, ...change(stock) })),
    railway: { laying: { ...laying, rates: { ...laying.rates, ...rates } } },
  })
}

async function shopped(plan: Plan) {
  const derived = pipelineCreate().derive(plan)
  const lists = await layingLists(derived, (request) => Promise.resolve(cutWhole(request)))
  return { lists, shopping: shoppingOf(plan, lists, derived.network) }
}

describe('shopping for 2 m of straight track', async () => {
  const plan = planStocked(
    ({ of }) =>
      of.kind === 'rail'
        ? { onHand: 1, packOf: 3, packPrice: 12.5 }
        : of.kind === 'supply' && of.what === 'joiners'
          ? { onHand: 1, packOf: 2, packPrice: 0.75 }
          : {},
    { plainMmPerHour: 500, turnoutHours: 3 },
  )
  const { lists, shopping } = await shopped(plan)
  const line = (what: string) => shopping.lines.find((one) => one.what === what)

  it('rail: 4 m from sticks of 914.4 mm are five at least, one of them from the shelf, four more in packs of three', () => {
    // 2 x 2000 / 914.4 = 4.37: five sticks hold it, four do not.
    expect(line('rail')).toMatchObject({ needed: 5, fromHand: 1, toBuy: 4, packs: 2, price: 25 })
  })

  it('a joiner at each joint: two in each rail, one from the shelf, the rest in packs of two', () => {
    expect(line('joiners')).toMatchObject({ needed: 4, fromHand: 1, toBuy: 3, packs: 2, price: 1.5 })
    expect(line('insulatedJoiners')).toBeUndefined()
    expect(line('shimTape')).toBeUndefined()
  })

  it('spikes: those of the spiking plan and a tenth', () => {
    const { spikes } = lists.rails.spiking
    const { needed } = line('spikes') ?? { needed: 0 }
    expect(spikes).toBeGreaterThan(0)
    expect(needed).toBeGreaterThanOrEqual(1.1 * spikes - 1e-6)
    expect(needed).toBeLessThan(1.1 * spikes + 1)
  })

  it('tie wood and sheets of roadbed as they were cut', () => {
    const ties = lists.tieCuts.flatMap(({ result }) => (result.ok ? result.plan.sticks : []))
    expect(line('tie')?.needed).toBe(ties.length)
    expect(ties.flatMap(({ pieces }) => pieces)).toHaveLength(lists.ties.list.count)
    expect(line('roadbed')?.needed).toBe(lists.roadbedCut.ok ? lists.roadbedCut.plan.sheets.length : -1)
  })

  it('adds up what has a price and tells what has none', () => {
    expect(shopping.total).toBe(26.5)
    expect(shopping.unpriced.map((at) => shopping.lines[at]?.what).toSorted()).toEqual(['roadbed', 'spikes', 'tie'])
    expect(shoppingTable(shopping, plan, prefs).notes[0]).toBe('Total 26.50 without 3 of 5 lines, whose price is not known.')
  })

  it('time by the builder’s own pace: 2 m at half a metre an hour', () => {
    expect(shopping.time).toMatchObject({ turnouts: 0, crossings: 0, unknown: [] })
    expect(shopping.time.hours).toBeCloseTo(4, 9)
  })
})

describe('shopping where something is wanting', async () => {
  // No rail to be bought and two sticks on the shelf; no spikes in the list at all.
  const plan = planStocked(({ of }) =>
    of.kind === 'rail'
      ? { onHand: 2, canBuy: false }
      : of.kind === 'supply' && of.what === 'spikes'
        ? { of: { ...of, what: 'shimTape' } }
        : {},
  )
  const { lists, shopping } = await shopped(plan)

  it('rail that could not be cut is not on the list, and it is said', () => {
    expect(shopping.missing).toEqual(['rail'])
    expect(shopping.lines.some(({ what }) => what === 'rail')).toBe(false)
    expect(layingProblemTexts(lists, plan, prefs).track.join('\n')).toMatch(/Rail of code \d+: What is on hand is not enough/)
    expect(shoppingTable(shopping, plan, prefs).notes).toContain('Not all rail is on the list: the problems say why.')
  })

  it('what the stock list lacks has no pack and no price', () => {
    expect(shopping.lines.find(({ what }) => what === 'spikes')).toMatchObject({ stock: null, packs: null, price: null })
    expect(shopping.total).toBe(0)
  })

  it('without a pace nothing is said of time', () => {
    expect(shopping.time).toMatchObject({ hours: null, unknown: ['plain'] })
  })
})

describe('words for what hinders a cutting', () => {
  it('say what would do', () => {
    expect(cutProblemText({ kind: 'pieceTooLong', piece: 'M-L1', lengthMm: 950, longestMm: 900 }, prefs)).toBe(
      'Piece M-L1 is 950 mm long and the longest stick 900 mm. A stick of 950 mm would do.',
    )
    expect(cutProblemText({ kind: 'badKerf', value: -1, wouldDo: 0.5 }, prefs)).toMatch(/cannot take less than nothing/)
    expect(cutProblemText({ kind: 'noStock' }, prefs)).toMatch(/Add some/)
  })
})
