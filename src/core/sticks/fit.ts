import type { Instance } from './instance.ts'
import { knapsack } from './knapsack.ts'

/** A stick and the kinds of its pieces, one entry a piece. */
export interface Stick {
  stock: number
  readonly kinds: number[]
  left: number
}

export type Sticks = readonly Stick[]

/** Length that counts first, and second. */
export function costOf({ stocks }: Instance, sticks: Sticks): { readonly prime: number; readonly second: number } {
  let prime = 0
  let second = 0
  for (const { stock } of sticks) {
    prime += stocks[stock]?.prime ?? 0
    second += stocks[stock]?.second ?? 0
  }
  return { prime, second }
}

export function isBetter(instance: Instance, a: Sticks, b: Sticks | null): boolean {
  if (!b) return true
  const [x, y] = [costOf(instance, a), costOf(instance, b)]
  return x.prime !== y.prime ? x.prime < y.prime : x.second !== y.second ? x.second < y.second : a.length < b.length
}

/** Stocks from hand before those to be bought, what is missing last; shortest first from hand, longest first to buy. */
function stockOrder({ stocks }: Instance): readonly number[] {
  const rank = (i: number): number => {
    const one = stocks[i]
    return !one?.stock ? 2 : one.stock.isBought ? 1 : 0
  }
  return stocks
    .map((_, i) => i)
    .sort((a, b) => rank(a) - rank(b) || (rank(a) === 0 ? 1 : -1) * ((stocks[a]?.size ?? 0) - (stocks[b]?.size ?? 0)))
}

/** Longest piece first, each on the first stick with room for it, or (tight) on that which it fills best. */
export function fitDecreasing(instance: Instance, demands: readonly number[], used: readonly number[], isTight: boolean): Sticks {
  const { kinds, stocks } = instance
  const order = stockOrder(instance)
  const left = stocks.map(({ count }, i) => count - (used[i] ?? 0))
  const sticks: Stick[] = []
  for (const [kind, { size }] of kinds.entries()) {
    let from = 0
    for (let n = demands[kind] ?? 0; n > 0; n--) {
      let at: Stick | undefined
      if (isTight) {
        for (const stick of sticks) if (stick.left >= size && (!at || stick.left < at.left)) at = stick
      } else {
        while (from < sticks.length && (sticks[from]?.left ?? 0) < size) from++
        at = sticks[from]
      }
      if (!at) {
        const stock = order.find((i) => (left[i] ?? 0) > 0 && (stocks[i]?.size ?? 0) >= size)
        if (stock === undefined) throw new RangeError('a stock without end must be as long as the longest piece')
        left[stock] = (left[stock] ?? 0) - 1
        at = { stock, kinds: [], left: stocks[stock]?.size ?? 0 }
        sticks.push(at)
      }
      at.kinds.push(kind)
      at.left -= size
    }
  }
  return sticks
}

/** Stick after stick filled as full as it goes, the longest piece left that fits always among them; slack: of a stick may be wasted, micrometres. */
export function fitFull(instance: Instance, demands: readonly number[], used: readonly number[], slack: number, nodesMost: number): Sticks {
  const { kinds, stocks } = instance
  const order = stockOrder(instance)
  const left = stocks.map(({ count }, i) => count - (used[i] ?? 0))
  const open = [...demands]
  const sizes = kinds.map(({ size }) => size)
  // Longest first, as they stand: a piece is worth its size.
  const ranked = kinds.map((_, kind) => kind)
  const sticks: Stick[] = []
  for (const stock of order) {
    const room = stocks[stock]?.size ?? 0
    while ((left[stock] ?? 0) > 0) {
      const first = open.findIndex((count, kind) => count > 0 && (sizes[kind] ?? 0) <= room)
      if (first < 0) break
      open[first] = (open[first] ?? 0) - 1
      const rest = room - (sizes[first] ?? 0)
      const filled = knapsack(ranked, sizes, sizes, open, rest, 0, slack, nodesMost)
      const stick: Stick = { stock, kinds: [first], left: rest }
      for (const [kind, count] of filled.counts) {
        open[kind] = (open[kind] ?? 0) - count
        stick.left -= count * (sizes[kind] ?? 0)
        for (let n = 0; n < count; n++) stick.kinds.push(kind)
      }
      sticks.push(stick)
      left[stock] = (left[stock] ?? 0) - 1
    }
  }
  return sticks
}

/**
 * The same pieces on sticks no dearer: pieces move from the emptiest sticks into gaps of others, so that few long ends are left, and each
 * stick becomes the cheapest stock that still holds its pieces.
 */
export function tidied(instance: Instance, given: Sticks): Sticks {
  const { kinds, stocks } = instance
  const sticks = given.map(({ stock, kinds: on, left }): Stick => ({ stock, kinds: [...on], left }))
  for (const source of sticks.toSorted((a, b) => b.left - a.left)) {
    for (const kind of source.kinds.toSorted((a, b) => a - b)) {
      const size = kinds[kind]?.size ?? 0
      let target: Stick | undefined
      for (const stick of sticks)
        if (
          stick !== source &&
          stick.kinds.length > 0 &&
          stick.left >= size &&
          stick.left < source.left + size &&
          (!target || stick.left < target.left)
        )
          target = stick
      if (!target) continue
      source.kinds.splice(source.kinds.indexOf(kind), 1)
      source.left += size
      target.kinds.push(kind)
      target.left -= size
    }
  }
  const kept = sticks.filter((stick) => stick.kinds.length > 0)
  const free = stocks.map(({ count }) => count)
  for (const { stock } of kept) free[stock] = (free[stock] ?? 0) - 1
  for (const stick of kept) {
    const filled = (stocks[stick.stock]?.size ?? 0) - stick.left
    let best = stick.stock
    for (const [i, one] of stocks.entries()) {
      const now = stocks[best]
      if (!now || one.size < filled || (free[i] ?? 0) < 1) continue
      if (one.prime < now.prime || (one.prime === now.prime && one.second < now.second)) best = i
    }
    if (best === stick.stock) continue
    free[stick.stock] = (free[stick.stock] ?? 0) + 1
    free[best] = (free[best] ?? 0) - 1
    stick.stock = best
    stick.left = (stocks[best]?.size ?? 0) - filled
  }
  return kept
}
