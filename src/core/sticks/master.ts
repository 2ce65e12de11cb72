import type { Stick, Sticks } from './fit.ts'
import type { Instance } from './instance.ts'
import { fillings, knapsack, rankedByRate } from './knapsack.ts'
import type { CutMaster, CutMasterKept, CutSolver } from './types.ts'

/** One way of cutting one stick. */
export interface Pattern {
  readonly stock: number
  readonly counts: readonly (readonly [kind: number, count: number])[]
}

export interface Relaxed {
  readonly x: readonly number[]
  /** Of the program over the patterns that are known, in the master's measure. */
  readonly cost: number
  /** No cutting costs less. */
  readonly bound: number
}

/** Branches looked at in one search for a pattern. */
const nodesMost = 20_000
const gain = 1e-7
/** Patterns among which the best whole choice is still made in seconds. */
const allMost = 3000

/** The patterns of a list that are known so far, and the linear program over them. */
export interface PatternMaster {
  readonly instance: Instance
  readonly patterns: readonly Pattern[]
  learn(sticks: Sticks): void
  /** Sets what is still to be cut and what of each stock is used up. */
  demand(demands: readonly number[], used: readonly number[]): void
  /**
   * Solves the program, then adds patterns that would better it by more than `slack` of a stick. null: the solver failed. isDone: none was
   * found.
   */
  round(slack: number): (Relaxed & { readonly isDone: boolean }) | null
  /**
   * Learns every pattern that costs no more than `within` beyond its worth in the last solved program: all that a cutting can hold which costs
   * less than that more than the program. Returns false if they are too many.
   */
  learnAll(within: number): boolean
  program(secondWeight: number): CutMaster
  close(): void
}

/** Lengths are measured by the longest stock, so that a stick costs about 1. */
export function masterOpen(instance: Instance, solver: CutSolver, start: Sticks): PatternMaster {
  const { kinds, stocks } = instance
  const unit = Math.max(...stocks.map(({ length }) => length))
  const sizes = kinds.map(({ size }) => size)
  let demands: readonly number[] = kinds.map(({ pieces }) => pieces.length)
  let counts: readonly number[] = stocks.map(({ count }) => count)
  const rowOfStock = new Map<number, number>()
  for (const [i, { count }] of stocks.entries()) if (count < Infinity) rowOfStock.set(i, kinds.length + rowOfStock.size)
  const patterns: Pattern[] = []
  let values: readonly number[] = []
  let prices: readonly number[] = []
  const known = new Set<string>()
  let kept: CutMasterKept | null = null

  const primeOf = (stock: number): number => (stocks[stock]?.prime ?? 0) / unit
  const columnOf = ({ stock, counts: on }: Pattern) => {
    const row = rowOfStock.get(stock)
    return {
      rows: [...on.map(([kind]) => kind), ...(row === undefined ? [] : [row])],
      values: [...on.map(([, count]) => count), ...(row === undefined ? [] : [1])],
    }
  }
  const add = (pattern: Pattern): boolean => {
    const key = `${pattern.stock}:${pattern.counts.map(([kind, count]) => `${kind}x${count}`).join()}`
    if (pattern.counts.length === 0 || known.has(key)) return false
    known.add(key)
    patterns.push(pattern)
    if (kept) {
      const { rows, values } = columnOf(pattern)
      kept.add(primeOf(pattern.stock), rows, values)
    }
    return true
  }
  const learn = (sticks: Sticks): void => {
    for (const { stock, kinds: on } of sticks) add({ stock, counts: countsOf(on) })
  }
  const program = (secondWeight: number): CutMaster => ({
    cost: patterns.map(({ stock }) => primeOf(stock) + (secondWeight * (stocks[stock]?.second ?? 0)) / unit),
    columns: patterns.map(columnOf),
    least: [...demands, ...[...rowOfStock.keys()].map(() => -Infinity)],
    most: [...demands.map(() => Infinity), ...[...rowOfStock.keys()].map((stock) => counts[stock] ?? 0)],
  })
  learn(start)
  kept = solver.open(program(0))

  return {
    instance,
    patterns,
    learn,
    demand: (nextDemands, used) => {
      for (const [kind, count] of nextDemands.entries()) if (count !== demands[kind]) kept?.bound(kind, count, Infinity)
      counts = stocks.map(({ count }, i) => count - (used[i] ?? 0))
      for (const [stock, row] of rowOfStock) kept?.bound(row, -Infinity, counts[stock] ?? 0)
      demands = nextDemands
    },
    round: (slack) => {
      const outcome = kept?.solve()
      if (outcome?.status !== 'optimal') return null
      const { x, duals } = outcome
      values = kinds.map((_, kind) => Math.max(0, duals[kind] ?? 0))
      prices = stocks.map((_, stock) => {
        const row = rowOfStock.get(stock)
        return primeOf(stock) - (row === undefined ? 0 : Math.min(0, duals[row] ?? 0))
      })
      const ranked = rankedByRate(sizes, values)
      let isDone = true
      let over = 1
      let loss = 0
      for (const [stock, { size, count }] of stocks.entries()) {
        const price = prices[stock] ?? 0
        const dual = primeOf(stock) - price
        const open = [...demands]
        const first = knapsack(ranked, sizes, values, open, size, price + gain, slack, nodesMost)
        if (count === Infinity) over = Math.max(over, price > 0 ? first.most / price : Infinity)
        else loss += (counts[stock] ?? 0) * (dual - Math.max(0, first.most - price))
        // Further patterns of what the first leaves: far fewer rounds.
        for (let next = first; next.counts.length > 0; ) {
          if (!add({ stock, counts: next.counts })) break
          isDone = false
          for (const [kind] of next.counts) open[kind] = 0
          next = knapsack(ranked, sizes, values, open, size, price + gain, 1e-3, 2000)
        }
      }
      const worth = values.reduce((sum, value, kind) => sum + value * (demands[kind] ?? 0), 0)
      const cost = patterns.reduce((sum, { stock }, i) => sum + primeOf(stock) * (x[i] ?? 0), 0)
      return { x, cost, isDone, bound: Math.max(0, worth / over + loss) }
    },
    learnAll: (within) => {
      const found: Pattern[] = []
      for (const [stock, { size }] of stocks.entries()) {
        const all = fillings(sizes, values, demands, size, (prices[stock] ?? 0) - within, allMost - found.length)
        if (!all) return false
        for (const counts of all) found.push({ stock, counts })
      }
      for (const pattern of found) add(pattern)
      return true
    },
    program,
    close: () => kept?.close(),
  }
}

function countsOf(kinds: readonly number[]): readonly (readonly [number, number])[] {
  const counts = new Map<number, number>()
  for (const kind of kinds) counts.set(kind, (counts.get(kind) ?? 0) + 1)
  return [...counts].sort((a, b) => a[0] - b[0])
}

/** Sticks cut by patterns so many times each; what a pattern cuts beyond the need is left out of it, and an empty stick is none. */
export function sticksOf(instance: Instance, patterns: readonly Pattern[], times: readonly number[], open: number[]): Sticks {
  const sticks: Stick[] = []
  for (const [i, { stock, counts }] of patterns.entries()) {
    for (let n = Math.round(times[i] ?? 0); n > 0; n--) {
      const stick: Stick = { stock, kinds: [], left: instance.stocks[stock]?.size ?? 0 }
      for (const [kind, count] of counts) {
        const taken = Math.min(count, open[kind] ?? 0)
        open[kind] = (open[kind] ?? 0) - taken
        stick.left -= taken * (instance.kinds[kind]?.size ?? 0)
        for (let k = 0; k < taken; k++) stick.kinds.push(kind)
      }
      if (stick.kinds.length > 0) sticks.push(stick)
    }
  }
  return sticks
}
