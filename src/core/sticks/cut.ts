import { fitLoads } from './fit.ts'
import { figuresOf, instanceOf, isInstance, loadsCost, MISSING, planOf } from './instance.ts'
import type { Instance, Load } from './instance.ts'
import { knapsackSolve } from './knapsack.ts'
import type { CutProgress, CutRequest, CutResult, Master, MasterColumn, MasterOpen } from './types.ts'

/** Below this a column's gain is rounding; costs are divided by the longest stock before they reach the solver. */
const GAIN = 1e-9
/** Rounds of column generation on one set of pieces; a list of thousands settles in some hundreds. */
const MOST_ROUNDS = 2000
/** Seconds for whole amounts of the columns that are there. */
const WHOLE_SECONDS = 2
const ROUNDING = 1e-6

/**
 * Pieces cut from stock so that least is bought, in steps: each tells how it stands, and is told to go on or to stop.
 *
 * Units:      mm; compared in thousandths of one.
 * Exactness:  the bound is proven: it is the least cost of a program that allows parts of sticks (column generation after Gilmore and Gomory,
 *             1961), taken up to the next length that whole sticks can have. The plan is found by whole amounts of its columns and by laying down what
 *             is whole and solving the rest again; it is never worse than the first that fits, and isProven says when it meets the bound.
 * Outcome:    a stop gives the best plan so far, with its gap.
 * Source:     [GILMORE-GOMORY]; bound of an unfinished generation after Farley (1990), from memory.
 */
export function* cutRounds(request: CutRequest, open: MasterOpen): Generator<CutProgress, CutResult, 'goOn' | 'stop'> {
  const instance = instanceOf(request)
  if (!isInstance(instance)) return { ok: false, problem: instance }
  const wanted = instance.kinds.map(({ pieces }) => pieces.length)
  const firstFit = fitLoads(instance, wanted, 'first')
  const best = { loads: better(instance, firstFit, fitLoads(instance, wanted, 'closest')) }
  const step = stepOf(instance)
  const sum = instance.kinds.reduce((all, { weight, pieces }) => all + weight * pieces.length, 0)
  const search = { instance, open, scale: Math.max(1, ...instance.sources.map(({ room }) => room)), columns: [] as Column[] }
  let bound = roundUp(Math.max(0, sum - roomAtHand(instance) - instance.kerf * best.loads.length), step)
  const isDone = (): boolean => loadsCost(instance, best.loads) <= bound
  const progress = (): CutProgress => ({ figures: figuresOf(instance, best.loads), boundMm: bound / 1000 })

  if (wanted.length > 0 && !isDone() && (yield progress()) === 'goOn') {
    const relaxed = generate(
      search,
      wanted,
      instance.sources.map(() => 0),
    )
    if (relaxed !== null) {
      bound = Math.max(bound, roundUp(relaxed.bound, step))
      best.loads = better(instance, best.loads, withRest(instance, wanted, floorLoads(relaxed.amounts, search.columns)))
      const tries = [wholeTry, diveTry] as const
      for (const attempt of tries) {
        if (isDone() || (yield progress()) === 'stop') break
        best.loads = better(instance, best.loads, attempt(search, wanted, relaxed))
      }
      relaxed.master.close()
    }
  }
  const tidy = atHandFirst(instance, best.loads)
  const missing = tidy.filter(({ source }) => instance.sources[source]?.stock.id === MISSING)
  if (missing.length > 0) {
    const pieces = missing.reduce((all, { counts }) => all + counts.reduce((a, b) => a + b, 0), 0)
    const missingMm = missing.reduce(
      (all, { counts }) => all + counts.reduce((a, n, k) => a + n * (instance.kinds[k]?.pieces[0]?.lengthMm ?? 0), 0),
      0,
    )
    return { ok: false, problem: { kind: 'notEnough', pieces, missingMm } }
  }
  return { ok: true, plan: planOf(instance, tidy, firstFit, Math.min(bound, loadsCost(instance, tidy))) }
}

/** The whole search at once. */
export function cutSolve(request: CutRequest, open: MasterOpen): CutResult {
  const rounds = cutRounds(request, open)
  let next = rounds.next()
  while (next.done !== true) next = rounds.next('goOn')
  return next.value
}

interface Column {
  readonly source: number
  readonly counts: readonly number[]
}
interface Search {
  readonly instance: Instance
  readonly open: MasterOpen
  /** Costs as the solver sees them are of the size of one. */
  readonly scale: number
  /** All patterns that were worth something once; each level of a dive begins with those that still fit. */
  readonly columns: Column[]
}
interface Relaxed {
  readonly master: Master
  readonly columns: readonly Column[]
  readonly amounts: readonly number[]
  /** Proven least cost, in whole thousandths. */
  readonly bound: number
}

/** Whole sticks that are bought differ by multiples of this. */
function stepOf({ sources }: Instance): number {
  const gcd = (a: number, b: number): number => (b === 0 ? a : gcd(b, a % b))
  return Math.max(
    1,
    sources.reduce((all, { cost, stock }) => (stock.id === MISSING ? all : gcd(all, cost)), 0),
  )
}
const roundUp = (cost: number, step: number): number => Math.ceil(cost / step - ROUNDING) * step

function roomAtHand({ sources }: Instance): number {
  return sources.reduce((all, { cost, room, limit }) => (cost === 0 ? all + room * (limit === Infinity ? 1e6 : limit) : all), 0)
}

function better(instance: Instance, one: readonly Load[], other: readonly Load[] | null): readonly Load[] {
  if (other === null) return one
  const [a, b] = [loadsCost(instance, one), loadsCost(instance, other)]
  if (a !== b) return a < b ? one : other
  return other.length < one.length ? other : one
}

/** The program of patterns of these pieces, grown until no pattern would make it cheaper. used: sticks of each source that are gone. */
function generate({ instance, open, scale, columns: known }: Search, wanted: readonly number[], used: readonly number[]): Relaxed | null {
  const { kinds, sources } = instance
  const weights = kinds.map(({ weight }) => weight)
  const limited = sources.flatMap(({ limit }, i) => (limit === Infinity ? [] : [i]))
  const master = open([...wanted, ...limited.map((i) => (used[i] ?? 0) - (sources[i]?.limit ?? 0))])
  const columns: Column[] = []
  const seen = new Set<string>()
  const add = (fresh: readonly Column[]): boolean => {
    const news = fresh.filter(({ source, counts }) => {
      const key = `${source}:${counts.join(' ')}`
      if (seen.has(key)) return false
      seen.add(key)
      return true
    })
    master.add(news.map((column) => columnOf(column, instance, limited, scale)))
    columns.push(...news)
    return news.length > 0
  }
  add(known.filter(({ counts }) => counts.every((count, k) => count <= (wanted[k] ?? 0))))
  add(fitLoads(instance, wanted, 'first', used))
  add(fitLoads(instance, wanted, 'closest', used))

  let bound = 0
  for (let round = 0; round < MOST_ROUNDS; round++) {
    const solved = master.solve()
    if (solved === null) break
    const worths = solved.worths.slice(0, kinds.length).map((worth) => Math.max(0, worth))
    // Farley: worths scaled down until no stick holds more than it costs still bound the whole from below.
    let share = 1
    const fresh: Column[] = []
    for (const [source, { room, cost }] of sources.entries()) {
      const { worth, counts, isCut } = knapsackSolve(weights, worths, wanted, room)
      const atLimit = limited.indexOf(source)
      const price = cost / scale + (atLimit < 0 ? 0 : Math.max(0, solved.worths[kinds.length + atLimit] ?? 0))
      if (isCut) share = 0
      if (worth > price + GAIN) {
        fresh.push({ source, counts })
        share = Math.min(share, worth > 0 ? price / worth : 1)
      }
    }
    bound = Math.max(bound, solved.cost * share * scale)
    if (fresh.length === 0) {
      known.push(...columns.filter((column) => !known.includes(column)))
      return { master, columns, amounts: solved.amounts, bound }
    }
    if (!add(fresh)) {
      known.push(...columns.filter((column) => !known.includes(column)))
      return { master, columns, amounts: solved.amounts, bound }
    }
  }
  master.close()
  return null
}

function columnOf({ source, counts }: Column, { sources }: Instance, limited: readonly number[], scale: number): MasterColumn {
  const held = counts.flatMap((count, k) => (count > 0 ? [[k, count] as const] : []))
  const at = limited.indexOf(source)
  const entries = at < 0 ? held : [...held, [counts.length + at, -1] as const]
  return { cost: (sources[source]?.cost ?? 0) / scale, rows: entries.map(([row]) => row), values: entries.map(([, value]) => value) }
}

function floorLoads(amounts: readonly number[], columns: readonly Column[]): readonly Load[] {
  return columns.flatMap((column, i) => Array.from({ length: Math.floor((amounts[i] ?? 0) + ROUNDING) }, () => column))
}

/** What loads leave undone. Loads may hold more of a kind than is wanted: what is too much is taken out. */
function withRest(instance: Instance, wanted: readonly number[], loads: readonly Load[]): readonly Load[] {
  const left = [...wanted]
  const kept = loads.flatMap(({ source, counts }): Load[] => {
    const mine = counts.map((count, k) => Math.min(count, left[k] ?? 0))
    for (const [k, count] of mine.entries()) left[k] = (left[k] ?? 0) - count
    return mine.some((count) => count > 0) ? [{ source, counts: mine }] : []
  })
  const used = usedBy(instance, kept)
  const rests = (['first', 'closest'] as const).map((way) => fitLoads(instance, left, way, used))
  return [...kept, ...(rests.reduce((a, b) => better(instance, a, b)) ?? [])]
}

function usedBy({ sources }: Instance, loads: readonly Load[]): readonly number[] {
  const used = sources.map(() => 0)
  for (const { source } of loads) used[source] = (used[source] ?? 0) + 1
  return used
}

function wholeTry({ instance }: Search, wanted: readonly number[], { master, columns }: Relaxed): readonly Load[] | null {
  const amounts = master.solveWhole(WHOLE_SECONDS)
  return amounts === null ? null : withRest(instance, wanted, floorLoads(amounts, columns))
}

/** Lays down what is whole of the program's answer, or the fullest part, and solves what is left again, until nothing is. */
function diveTry(search: Search, wanted: readonly number[], first: Relaxed): readonly Load[] | null {
  const { instance } = search
  const laid: Load[] = []
  let left: readonly number[] = wanted
  let at: Pick<Relaxed, 'amounts' | 'columns'> = first
  while (left.some((count) => count > 0)) {
    const whole = floorLoads(at.amounts, at.columns)
    const fullest = at.amounts.reduce((best, amount, i) => (amount > (at.amounts[best] ?? 0) ? i : best), 0)
    const fixed = whole.length > 0 ? whole : at.columns.slice(fullest, fullest + 1)
    if (fixed.length === 0) return null
    const next = [...left]
    for (const { source, counts } of fixed) {
      const mine = counts.map((count, k) => Math.min(count, next[k] ?? 0))
      if (!mine.some((count) => count > 0)) continue
      for (const [k, count] of mine.entries()) next[k] = (next[k] ?? 0) - count
      laid.push({ source, counts: mine })
    }
    left = next
    if (!left.some((count) => count > 0)) break
    const again = generate(search, left, usedBy(instance, laid))
    if (again === null) return withRest(instance, wanted, laid)
    again.master.close()
    at = again
  }
  return laid
}

/**
 * The same cost with sticks used as sensibly: pieces of the emptiest bought stick go where there is still room, so that what is left is left
 * in one length; and sticks at hand come first.
 */
function atHandFirst(instance: Instance, loads: readonly Load[]): readonly Load[] {
  const { sources, kinds } = instance
  const open = loads.map(({ source, counts }) => {
    const weight = counts.reduce((sum, count, k) => sum + count * (kinds[k]?.weight ?? 0), 0)
    return { source, counts: [...counts], room: (sources[source]?.room ?? 0) - weight }
  })
  open.sort((a, b) => a.room - b.room)
  const [last] = open.splice(-1)
  if (last !== undefined) {
    for (const [k, { weight }] of kinds.entries()) {
      for (const stick of open) {
        while ((last.counts[k] ?? 0) > 0 && stick.room >= weight) {
          last.counts[k] = (last.counts[k] ?? 0) - 1
          last.room += weight
          stick.counts[k] = (stick.counts[k] ?? 0) + 1
          stick.room -= weight
        }
      }
    }
    if (last.counts.some((count) => count > 0)) open.push(last)
  }
  return open.toSorted((a, b) => (sources[a.source]?.cost ?? 0) - (sources[b.source]?.cost ?? 0) || a.room - b.room)
}
