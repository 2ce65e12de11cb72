/** What one stick may hold best. */
export interface Knapsack {
  readonly worth: number
  readonly counts: readonly number[]
  /** The search was given up before its end: a better one may be there. */
  readonly isCut: boolean
}

/** Nodes of the search after which it is given up: some milliseconds. */
const NODES = 400_000

/**
 * The most valuable set of kinds within a room, each at most so often.
 *
 * Exactness:  exact unless isCut. Depth first by worth for the weight; a branch ends when filling all its room with the next kind, fractions
 *             and all, would not do (Gilmore and Gomory, 1963). [GILMORE-GOMORY]
 */
export function knapsackSolve(weights: readonly number[], worths: readonly number[], most: readonly number[], room: number): Knapsack {
  const order = weights
    .map((_, i) => i)
    .filter((i) => (worths[i] ?? 0) > 1e-12 && (most[i] ?? 0) > 0 && (weights[i] ?? Infinity) <= room)
    .sort((a, b) => (worths[b] ?? 0) / (weights[b] ?? 1) - (worths[a] ?? 0) / (weights[a] ?? 1))
  const n = order.length
  const w = order.map((i) => weights[i] ?? 1)
  const p = order.map((i) => worths[i] ?? 0)
  const limit = order.map((i) => most[i] ?? 0)
  const ratio = p.map((worth, i) => worth / (w[i] ?? 1))
  const counts = new Array<number>(n).fill(0)
  let best = 0
  let bestCounts = counts.slice()
  let nodes = 0
  const search = (at: number, left: number, worth: number): void => {
    if (worth > best + 1e-12) {
      best = worth
      bestCounts = counts.slice()
    }
    if (at >= n || ++nodes > NODES || worth + left * (ratio[at] ?? 0) <= best + 1e-12) return
    const weight = w[at] ?? 1
    for (let count = Math.min(limit[at] ?? 0, Math.floor(left / weight)); count >= 0; count--) {
      counts[at] = count
      search(at + 1, left - count * weight, worth + count * (p[at] ?? 0))
    }
    counts[at] = 0
  }
  search(0, room, 0)
  const full = new Array<number>(weights.length).fill(0)
  for (const [k, i] of order.entries()) full[i] = bestCounts[k] ?? 0
  return { worth: best, counts: full, isCut: nodes > NODES }
}
