import type { Network } from '../network/types.ts'
import type { Id, Plan, Stock } from '../plan/types.ts'
import type { RailRun } from '../rails/types.ts'
import type { CutResult } from '../sticks/types.ts'
import type { LayingLists, LayingTime, Shopping, ShoppingLine } from './types.ts'

/** Spikes that bend or are lost: common practice, no source. */
const spikeSpare = 0.1

type Supply = Extract<Stock['of'], { kind: 'supply' }>['what']

/**
 * What has to be at hand and what has to be bought, in packs; less what is on the shelf.
 *
 * Outcome: stock that is cut first, in the order of the plan, then supplies. Prices and paces are the builder's own; what is not known is told
 * and not guessed.
 */
export function shoppingOf(plan: Plan, lists: LayingLists, network: Pick<Network, 'turnouts' | 'crossings'>): Shopping {
  const used = stockUsed(lists)
  const cutLines = Object.values(plan.stocks).flatMap((stock): ShoppingLine[] => {
    const needed = used.get(stock.id) ?? 0
    return needed === 0 || stock.of.kind === 'supply' ? [] : [lineOf(stock.of.kind, needed, stock)]
  })
  const supplies = suppliesNeeded(lists).flatMap(({ what, needed, unit }): ShoppingLine[] => {
    if (needed === 0) return []
    const stock = what === 'transitionJoiners' ? undefined : supplyStock(plan, what)
    return [unit === 'mm' ? tapeLine(needed, stock) : lineOf(what, needed, stock)]
  })
  const lines = [...cutLines, ...supplies]
  return {
    lines,
    total: lines.reduce((sum, { price }) => sum + (price ?? 0), 0),
    unpriced: lines.flatMap(({ price, toBuy }, i) => (price === null && toBuy !== 0 ? [i] : [])),
    missing: missingOf(lists),
    time: timeOf(plan, lists, network),
  }
}

function stockUsed({ railCuts, tieCuts, roadbedCut }: LayingLists): ReadonlyMap<Id, number> {
  const used = new Map<Id, number>()
  const add = (stock: Id | undefined, count: number): void => {
    if (stock !== undefined) used.set(stock, (used.get(stock) ?? 0) + count)
  }
  const addSticks = (stocks: { readonly [name: string]: Id }, result: CutResult): void => {
    if (result.ok) for (const stick of result.plan.sticks) add(stocks[stick.stock], 1)
  }
  for (const { stocks, result } of railCuts) addSticks(stocks, result)
  for (const { order, result } of tieCuts) addSticks(order.stocks, result)
  if (roadbedCut.ok) for (const { stock, used: sheets } of roadbedCut.plan.counts) add(stock, sheets)
  return used
}

function lineOf(what: ShoppingLine['what'], needed: number, stock: Stock | undefined): ShoppingLine {
  const fromHand = Math.min(needed, stock?.onHand ?? 0)
  const toBuy = needed - fromHand
  const packs = stock ? Math.ceil(toBuy / stock.packOf) : null
  const price = toBuy === 0 ? 0 : packs === null || stock === undefined || stock.packPrice === null ? null : packs * stock.packPrice
  return { what, stock: stock?.id ?? null, needed, unit: 'piece', fromHand, toBuy, packs, price }
}

function tapeLine(neededMm: number, stock: Stock | undefined): ShoppingLine {
  return { what: 'shimTape', stock: stock?.id ?? null, needed: neededMm, unit: 'mm', fromHand: 0, toBuy: null, packs: null, price: null }
}

/** What can be bought first. */
function supplyStock({ stocks }: Plan, what: Supply): Stock | undefined {
  const mine = Object.values(stocks).filter(({ of }) => of.kind === 'supply' && of.what === what)
  return mine.find(({ canBuy }) => canBuy) ?? mine[0]
}

function suppliesNeeded({ rails, roadbed }: LayingLists) {
  const ends = (kind: RailRun['end']['kind']): number =>
    rails.runs.reduce((sum, run) => sum + (run.start.kind === kind ? 1 : 0) + (run.end.kind === kind ? 1 : 0), 0)
  const tapeMm =
    rails.curves.reduce((sum, { layers }) => sum + layers.reduce((all, { fromMm, toMm }) => all + toMm - fromMm, 0), 0) +
    roadbed.ramps.reduce((sum, { shims }) => sum + (shims?.totalMm ?? 0), 0)
  return [
    { what: 'spikes', needed: Math.ceil(rails.spiking.spikes * (1 + spikeSpare) - 1e-9), unit: 'piece' },
    { what: 'joiners', needed: rails.joints.length, unit: 'piece' },
    // Two ends meet at each.
    { what: 'insulatedJoiners', needed: Math.ceil(ends('gap') / 2), unit: 'piece' },
    { what: 'transitionJoiners', needed: Math.ceil(ends('section') / 2), unit: 'piece' },
    { what: 'shimTape', needed: tapeMm, unit: 'mm' },
  ] as const
}

function missingOf({ rails, railCuts, tieCuts, tieProblems, roadbedCut }: LayingLists): Shopping['missing'] {
  const isRail =
    railCuts.some(({ result }) => !result.ok) || rails.problems.some(({ kind }) => kind === 'noRailStock' || kind === 'workTooLong')
  const isTie = (material: 'wood' | 'board'): boolean =>
    tieCuts.some(({ order, result }) => !result.ok && order.material === material) ||
    tieProblems.some((problem) => 'material' in problem && problem.material === material)
  return [
    ...(isRail ? (['rail'] as const) : []),
    ...(roadbedCut.ok ? [] : (['roadbed'] as const)),
    ...(isTie('wood') ? (['tie'] as const) : []),
    ...(isTie('board') ? (['board'] as const) : []),
  ]
}

function timeOf({ railway }: Plan, { rails }: LayingLists, network: Pick<Network, 'turnouts' | 'crossings'>): LayingTime {
  const { plainMmPerHour, turnoutHours, crossingHours } = railway.laying.rates
  const built = (all: Iterable<{ readonly result: { readonly ok: boolean } }>): number => [...all].filter(({ result }) => result.ok).length
  const bothRailsMm = rails.runs
    .flatMap(({ stretches }) => stretches)
    .reduce((sum, { owner, fromMm, toMm }) => sum + (owner.kind === 'track' ? toMm - fromMm : 0), 0)
  const plainMm = bothRailsMm / 2
  const turnouts = built(network.turnouts.values())
  const crossings = built(network.crossings.values())
  const parts = [
    { part: 'plain', amount: plainMm, hoursEach: plainMmPerHour === null || !(plainMmPerHour > 0) ? null : 1 / plainMmPerHour },
    { part: 'turnouts', amount: turnouts, hoursEach: turnoutHours },
    { part: 'crossings', amount: crossings, hoursEach: crossingHours },
  ] as const
  const wanted = parts.filter(({ amount }) => amount > 0)
  const known = wanted.flatMap(({ amount, hoursEach }) => (hoursEach === null ? [] : [amount * hoursEach]))
  return {
    plainMm,
    turnouts,
    crossings,
    hours: known.length === 0 ? null : known.reduce((a, b) => a + b, 0),
    unknown: wanted.flatMap(({ part, hoursEach }) => (hoursEach === null ? [part] : [])),
  }
}
