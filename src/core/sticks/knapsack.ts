/** What fills a stick best by value. */
export interface Filled {
  /** Pieces of each kind. */
  readonly counts: readonly (readonly [kind: number, count: number])[]
  readonly value: number
  /** No filling is worth more. */
  readonly most: number
}

/** Kinds by value for size, the most first; the longer first where it is the same. */
export function rankedByRate(sizes: readonly number[], values: readonly number[]): readonly number[] {
  const rates = sizes.map((size, kind) => (values[kind] ?? 0) / size)
  return sizes.map((_, kind) => kind).sort((a, b) => (rates[b] ?? 0) - (rates[a] ?? 0) || (sizes[b] ?? 0) - (sizes[a] ?? 0))
}

/**
 * The filling of greatest value above `floor`, by depth-first search: kinds by value for size, many of each first, and a branch is left when
 * even filling the rest at the next kind's rate gains no more than `slack` (Gilmore and Gomory's order of search).
 *
 * ranked: kinds in the order of rankedByRate; sizes: of each kind, whole; values: the same; demands: most of each; room: the stick's size.
 */
export function knapsack(
  ranked: readonly number[],
  sizes: readonly number[],
  values: readonly number[],
  demands: readonly number[],
  room: number,
  floor: number,
  slack: number,
  nodesMost: number,
): Filled {
  const order = ranked.filter((kind) => (values[kind] ?? 0) > 1e-12 && (demands[kind] ?? 0) > 0 && (sizes[kind] ?? 0) <= room)
  const n = order.length
  const size = Float64Array.from(order, (kind) => sizes[kind] ?? 0)
  const value = Float64Array.from(order, (kind) => values[kind] ?? 0)
  const demand = Float64Array.from(order, (kind) => demands[kind] ?? 0)
  const smallest = new Float64Array(n + 1).fill(Infinity)
  for (let i = n - 1; i >= 0; i--) smallest[i] = Math.min(smallest[i + 1] ?? Infinity, size[i] ?? 0)

  const taken = new Float64Array(n)
  let best = floor
  let bestTaken: Float64Array | null = null
  let nodes = 0
  let isCut = false

  const search = (from: number, left: number, worth: number): void => {
    if (worth > best) {
      best = worth
      bestTaken = taken.slice()
    }
    let i = from
    while (i < n && (size[i] ?? 0) > left) i++
    if (i >= n || left < (smallest[i] ?? Infinity)) return
    if (worth + left * ((value[i] ?? 0) / (size[i] ?? 1)) <= best + slack) return
    if (++nodes > nodesMost) {
      isCut = true
      return
    }
    const most = Math.min(demand[i] ?? 0, Math.floor(left / (size[i] ?? 1)))
    for (let count = most; count >= 0; count--) {
      if (isCut) break
      taken[i] = count
      search(i + 1, left - count * (size[i] ?? 0), worth + count * (value[i] ?? 0))
    }
    taken[i] = 0
  }
  search(0, room, 0)

  const found: Float64Array | null = bestTaken
  return {
    counts: found
      ? order.flatMap((kind, i): [number, number][] => ((found as Float64Array)[i] ? [[kind, (found as Float64Array)[i] ?? 0]] : []))
      : [],
    value: found ? best : 0,
    most: Math.max(floor, isCut ? room * ((value[0] ?? 0) / (size[0] ?? 1)) : best + slack),
  }
}

/**
 * Every filling worth at least `least` to which no further piece could be added; null if they are more than `most`, or too long to look for.
 * Arguments as with knapsack.
 */
export function fillings(
  sizes: readonly number[],
  values: readonly number[],
  demands: readonly number[],
  room: number,
  least: number,
  most: number,
): readonly Filled['counts'][] | null {
  const rate = (kind: number): number => (values[kind] ?? 0) / (sizes[kind] ?? 1)
  const order = rankedByRate(sizes, values).filter((kind) => (demands[kind] ?? 0) > 0 && (sizes[kind] ?? 0) <= room)
  const taken = order.map(() => 0)
  const found: Filled['counts'][] = []
  let nodes = 0
  const search = (i: number, left: number, worth: number): boolean => {
    if (++nodes > fillingNodesMost) return false
    const kind = order[i]
    if (kind === undefined) {
      if (worth < least || order.some((one, k) => (sizes[one] ?? 0) <= left && (taken[k] ?? 0) < (demands[one] ?? 0))) return true
      found.push(
        order.flatMap((one, k): [number, number][] => ((taken[k] ?? 0) > 0 ? [[one, taken[k] ?? 0]] : [])).sort((a, b) => a[0] - b[0]),
      )
      return found.length <= most
    }
    if (worth + left * rate(kind) < least) return true
    const size = sizes[kind] ?? 1
    for (let count = Math.min(demands[kind] ?? 0, Math.floor(left / size)); count >= 0; count--) {
      taken[i] = count
      if (!search(i + 1, left - count * size, worth + count * (values[kind] ?? 0))) return false
    }
    return true
  }
  return search(0, room, 0) ? found : null
}

const fillingNodesMost = 300_000
