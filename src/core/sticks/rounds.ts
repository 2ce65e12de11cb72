import { planOf } from './answer.ts'
import { boundReached, materialBound } from './bound.ts'
import { costOf, fitDecreasing, fitFull, isBetter, tidied, type Sticks } from './fit.ts'
import { instanceOf, type Instance } from './instance.ts'
import { masterOpen, sticksOf, type PatternMaster } from './master.ts'
import type { CutProgress, CutRequest, CutResult, CutSolver, CutWish } from './types.ts'

/** Branches of one filling of fitFull. */
const fillNodes = 5000
const diveNodes = 1000
/** What from hand counts beside what is bought, where both are weighed at once. */
const secondWeight = 1e-4
/** What a search for patterns may miss of a stick: at first, and where that leaves the bound open. */
const coarse = 1e-3
const fine = 1e-6
/** What the linear program may err, of a stick. */
const ROUNDING = 1e-4
/** Shares of what a stick may waste at which its filling ends: each makes another cutting. */
const wasteShares = [0.25, 0.7, 0.4, 0.1, 0]
/** Rounds between two tries to round what the linear program says so far. */
const roundsPerTry = 6
/** Dives from the linear program to a whole one. */
const divesMost = 4
/** How near to 1 a pattern must come to be taken with others at once, dive by dive. */
const nearOne = [0.7, 0.5, 0.85, 0.6]

/**
 * Cuts a list: first fit and fullest sticks; where the bound is not reached, the linear program over patterns that are found as needed
 * ([GILMORE-GOMORY-1961]), rounded by diving, then the best whole choice of the patterns found. The bound is that of the linear program, of
 * one not yet finished after [FARLEY-1990], up to the next length that whole sticks have. Tried on lists of [CUTTING-STOCK] and [CHVATAL-1983],
 * and on triplets made after [FALKENAUER-1996].
 *
 * wholeSeconds: most time of that last choice, which blocks. A wish to stop ends with the best cutting so far.
 */
export function* cutRounds(
  request: CutRequest,
  solver: CutSolver,
  { wholeSeconds }: { readonly wholeSeconds: number },
): Generator<CutProgress, CutResult, CutWish> {
  const made = instanceOf(request)
  if (!made.ok) return made
  const { instance } = made
  const search = new Search(instance)
  const none = instance.stocks.map(() => 0)
  const all = instance.kinds.map(({ pieces }) => pieces.length)
  const firstFit = fitDecreasing(instance, all, none, false)
  search.offer(firstFit)
  search.raise(materialBound(instance))
  let goesOn = (yield search.progress()) === 'goOn'
  if (goesOn && !search.isDone) search.offer(fitDecreasing(instance, all, none, true))
  for (const share of wasteShares) if (goesOn && !search.isDone) search.offer(fitFull(instance, all, none, search.spare * share, fillNodes))
  const isWeighed = costOf(instance, search.best).second > 0
  if (goesOn && (!search.isDone || isWeighed)) {
    const master = masterOpen(instance, solver, [...firstFit, ...search.best])
    try {
      if (!search.isDone) goesOn = yield* searched(search, master, all)
      if (goesOn && (!search.isDone || costOf(instance, search.best).second > 0)) {
        master.demand(all, none)
        const isAll = !search.isDone && learntAll(search, master)
        const outcome = solver.whole(master.program(isAll ? 0 : secondWeight), wholeSeconds)
        if (outcome.status !== 'failed') search.offer(sticksOf(instance, master.patterns, outcome.x, [...all]))
        // Any cutting that costs less than the best so far is made of these patterns.
        if (isAll && outcome.status === 'optimal') search.settle()
        goesOn = (yield search.progress()) === 'goOn'
      }
    } finally {
      master.close()
    }
  }
  return planOf(request, instance, { best: search.best, firstFit, bound: search.bound, ended: goesOn ? 'done' : 'stopped' })
}

/** All patterns that a better cutting than the best so far could hold; false if they are too many. */
function learntAll(search: Search, master: PatternMaster): boolean {
  const unit = Math.max(...search.instance.stocks.map(({ length }) => length))
  for (let round = master.round(fine); round; round = master.round(fine))
    if (round.isDone) return master.learnAll((search.prime - 1) / unit - round.cost + ROUNDING)
  return false
}

/** The best cutting so far, and what none can better. */
class Search {
  best: Sticks = []
  bound = 0
  rounds = 0
  readonly instance: Instance
  private hasBest = false

  constructor(instance: Instance) {
    this.instance = instance
  }

  offer(sticks: Sticks): void {
    const tidy = tidied(this.instance, sticks)
    if (this.hasBest && !isBetter(this.instance, tidy, this.best)) return
    this.best = tidy
    this.hasBest = true
  }

  raise(bound: number): void {
    this.bound = Math.max(this.bound, this.reached(bound))
  }

  /** Nothing better than the best exists. */
  settle(): void {
    this.bound = this.prime
  }

  reached(bound: number): number {
    return boundReached(this.instance, bound, this.prime)
  }

  get prime(): number {
    return costOf(this.instance, this.best).prime
  }

  get isDone(): boolean {
    return this.prime <= this.bound
  }

  /** What a stick may waste on the average for the bound to be reached: micrometres. */
  get spare(): number {
    const { kinds, stocks } = this.instance
    const need = kinds.reduce((sum, { size, pieces }) => sum + size * pieces.length, 0)
    const longest = Math.max(...stocks.map(({ size }) => size))
    const sticks = Math.ceil(need / longest)
    return Math.max(0, sticks * longest - need) / sticks
  }

  progress(): CutProgress {
    this.rounds++
    return { rounds: this.rounds, bestMm: this.prime / 1000, boundMm: this.bound / 1000 }
  }
}

/** Column generation to the end, then dives. Returns false if asked to stop. */
function* searched(search: Search, master: PatternMaster, all: readonly number[]): Generator<CutProgress, boolean, CutWish> {
  const { instance } = master
  const unit = Math.max(...instance.stocks.map(({ length }) => length))
  const none = instance.stocks.map(() => 0)
  const relaxed = function* (): Generator<CutProgress, readonly number[] | 'stop' | null, CutWish> {
    let slack = coarse
    for (;;) {
      const round = master.round(slack)
      if (!round) return null
      if (isWhole) search.raise(round.bound * unit)
      if (isWhole && search.rounds % roundsPerTry === 0) {
        const open = [...all]
        const sticks = sticksOf(
          instance,
          master.patterns,
          round.x.map((value) => Math.floor(value + 0.2)),
          open,
        )
        const used = instance.stocks.map((_, i) => sticks.filter(({ stock }) => stock === i).length)
        if (used.every((count, i) => count <= (instance.stocks[i]?.count ?? 0)))
          search.offer([...sticks, ...fitFull(instance, open, used, search.spare / 4, diveNodes)])
      }
      if ((yield search.progress()) === 'stop') return 'stop'
      const isClosed = search.reached(round.bound * unit) >= search.reached(round.cost * unit)
      if ((round.isDone && (!isWhole || slack <= fine)) || isClosed || (isWhole && search.isDone)) return round.x
      if (round.isDone) slack = Math.max(fine, slack / 10)
    }
  }
  let isWhole = true
  const root = yield* relaxed()
  if (root === 'stop') return false
  if (root === null) return true
  isWhole = false
  for (let dive = 0; dive < divesMost && !search.isDone; dive++) {
    const open = [...all]
    const used = [...none]
    const fixed: Sticks[] = []
    let x: readonly number[] = root
    while (open.some((count) => count > 0)) {
      const times = x.map((value) => Math.floor(value + 1 - (nearOne[dive] ?? 1)))
      if (!times.some((count) => count > 0)) {
        const ranked = x.map((value, i) => [value, i] as const).sort((a, b) => b[0] - a[0])
        times[ranked[0]?.[1] ?? 0] = 1
      }
      const sticks = sticksOf(instance, master.patterns, times, open)
      if (sticks.length === 0) break
      fixed.push(sticks)
      for (const { stock } of sticks) used[stock] = (used[stock] ?? 0) + 1
      if (used.some((count, i) => count > (instance.stocks[i]?.count ?? 0))) break
      search.offer([...fixed.flat(), ...fitDecreasing(instance, open, used, true)])
      if (search.isDone) return true
      search.offer([...fixed.flat(), ...fitFull(instance, open, used, search.spare / 4, diveNodes)])
      if (search.isDone || !open.some((count) => count > 0)) break
      master.demand([...open], used)
      const next = yield* relaxed()
      if (next === 'stop') return false
      if (next === null) break
      x = next
    }
    master.demand(all, none)
  }
  return true
}
