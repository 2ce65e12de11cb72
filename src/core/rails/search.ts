import { costLevel, costWeight, isForbidden, lineSolve } from './solve.ts'
import type { LineAsk, LineJoints, Span } from './solve.ts'
import { acrossMm, betweenMm, placesOf, spansAcross } from './stagger.ts'
import type { Laps, RunAbreast } from './stagger.ts'
import type { Cut } from './runs.ts'
import type { RailPlace } from './types.ts'

/** A rail whose joints are sought beside others. */
export interface SearchRail {
  readonly cut: Cut
  readonly ask: LineAsk
  readonly abreasts: readonly RunAbreast[]
}

export interface SearchAnswer {
  /** Joints of each rail, in the order of the rails. */
  readonly joints: readonly (readonly number[])[]
  readonly costs: readonly LineJoints['cost'][]
  /** None of the places that were looked at give better: fewest in zones, fewest without stagger, fewest, fewest on curves. */
  readonly isProven: boolean
}

/** A rail with joints; held: what its joints were told to keep out of. */
interface Laid {
  readonly line: LineJoints
  readonly places: readonly (readonly RailPlace[])[]
  readonly held: readonly Span[]
}

interface Node {
  readonly laid: readonly Laid[]
  readonly level: number
  readonly conflicts: readonly Conflict[]
}

/** Two joints across a track from each other, nearer than the stagger. */
interface Conflict {
  readonly a: number
  readonly b: number
  readonly at: RailPlace
  readonly other: RailPlace
  readonly isSetA: boolean
  readonly isSetB: boolean
}

const slackMm = 0.05
/** So many rails are solved anew for each rail of the lot before the search is given up. */
const triesPerRail = 60
const triesMost = 1500
/** Conflicts that are looked at before the search divides at one of them. */
const looksMost = 3

/**
 * Joints of rails that lie beside each other, the stagger held.
 *
 * Each rail is solved alone first; together they can cost no less. Where two joints are nearer than the stagger, one of the two rails
 * has none in the stretch of a stagger's length about them: the search divides there, and goes on with the cheapest division, until
 * one has no such joints left. That one is the best. A joint that cannot keep out pays for it, as a breach of the stagger.
 *
 * Outcome: always joints; given up after a bounded number of solutions, the better of the best found and of rails taken one by one.
 */
export function besideSolve(rails: readonly SearchRail[], staggerMm: number, laps: Laps): SearchAnswer {
  let tries = Math.min(triesMost, triesPerRail * rails.length)
  const goesOn = (): boolean => tries > 0
  const beside = neighboursOf(rails, staggerMm, laps)

  /** Joints across from a rail within the stagger, as stretches of it. */
  const across = (i: number, laid: readonly (Laid | undefined)[]): readonly Span[] => {
    const rail = rails[i]
    if (rail === undefined) return []
    return (beside[i] ?? []).flatMap((j) =>
      (laid[j]?.places ?? []).flat().flatMap((place) => spansAcross(rail.abreasts, place, staggerMm, laps)),
    )
  }
  const lay = (i: number, held: readonly Span[], avoid: readonly Span[]): Laid => {
    tries--
    const rail = rails[i]
    if (rail === undefined) throw new RangeError(`no rail ${i}`)
    const line = lineSolve({ ...rail.ask, beside: held, avoid })
    return { line, places: placesOf(rail.cut, line.at), held }
  }
  const nodeOf = (laid: readonly Laid[]): Node => ({
    laid,
    level: laid.reduce((sum, { line }) => sum + costLevel(line.cost), 0),
    conflicts: conflictsOf(rails, laid, beside, staggerMm, laps),
  })
  const changed = ({ laid }: Node, i: number, one: Laid): Node => nodeOf(laid.map((each, j) => (j === i ? one : each)))

  const first: Laid[] = []
  rails.forEach((_, i) => first.push(lay(i, [], across(i, first))))
  const open: Node[] = [nodeOf(first)]
  const rootLevel = open[0]?.level ?? 0
  let best: Node | null = null
  let leastOpen = rootLevel
  while (open.length > 0 && goesOn()) {
    let node = open.reduce((least, one) => (isBefore(one, least) ? one : least))
    open.splice(open.indexOf(node), 1)
    leastOpen = node.level
    let parted: readonly Node[] | null = null
    while (node.conflicts.length > 0 && goesOn()) {
      let rise = -1
      let better: Node | null = null
      for (const conflict of node.conflicts.slice(0, looksMost)) {
        const children = childrenOf(node, conflict)
        // As cheap, and nearer to what is wanted: the division was not needed.
        better = children.find(({ level, conflicts }) => level <= node.level && conflicts.length < node.conflicts.length) ?? null
        if (better !== null) break
        const least = Math.min(...children.map(({ level }) => level)) - node.level
        if (least > rise) [rise, parted] = [least, children]
        if (rise > 0) break
      }
      if (better === null) break
      const kept = node
      node = { ...better, laid: better.laid.map((one, i) => ({ ...one, held: kept.laid[i]?.held ?? [] })) }
      parted = null
    }
    if (node.conflicts.length === 0) {
      best = node
      break
    }
    open.push(...(parted ?? [node]))
  }

  function childrenOf(node: Node, { a, b, at, other, isSetA, isSetB }: Conflict): readonly Node[] {
    const child = (i: number, place: RailPlace, withinMm: number): Node => {
      const held = [...(node.laid[i]?.held ?? []), ...spansAcross(rails[i]?.abreasts ?? [], place, withinMm, laps)]
      return changed(node, i, lay(i, held, across(i, node.laid)))
    }
    // The builder's own stays: the other keeps its whole stagger off it.
    if (isSetA) return [child(b, at, staggerMm)]
    if (isSetB) return [child(a, other, staggerMm)]
    const stationMm = betweenMm(at, other, laps)
    return [child(a, { ...other, stationMm }, staggerMm / 2), child(b, { ...at, stationMm }, staggerMm / 2)]
  }

  if (best !== null) return answerOf(finished(best.laid), true)
  const oneByOne = greedy()
  const level = oneByOne.reduce((sum, { line }) => sum + costLevel(line.cost), 0)
  return answerOf(oneByOne, level <= leastOpen)

  /** Each rail once more beside all others, its stagger kept: fewer cut pieces are to be had at times. */
  function finished(laid: readonly Laid[]): readonly Laid[] {
    const now = [...laid]
    rails.forEach((_, i) => {
      const before = now[i]
      if (before === undefined || before.line.cost.cut <= 1) return
      const one = lay(i, [...before.held, ...across(i, now)], [])
      if (costWeight(one.line.cost) < costWeight(before.line.cost)) now[i] = one
    })
    return now
  }

  /** Rails one by one, the longest first, each its stagger off those before it; then those that lost by it once more before their neighbours. */
  function greedy(): readonly Laid[] {
    const order = rails.map((_, i) => i).toSorted((p, q) => (rails[q]?.ask.lengthMm ?? 0) - (rails[p]?.ask.lengthMm ?? 0))
    const now: (Laid | undefined)[] = rails.map(() => undefined)
    const settle = (i: number): void => {
      now[i] = lay(i, across(i, now), [])
    }
    order.forEach(settle)
    const weightOf = (those: readonly number[]): number => those.reduce((sum, i) => sum + costWeight((now[i] ?? nothing).line.cost), 0)
    for (const i of order) {
      const alone = first[i]
      const mine = now[i]
      if (alone === undefined || mine === undefined || costLevel(mine.line.cost) <= costLevel(alone.line.cost)) continue
      const touched = [i, ...(beside[i] ?? [])]
      const [kept, was] = [touched.map((j) => now[j]), weightOf(touched)]
      for (const j of touched) now[j] = undefined
      touched.forEach(settle)
      if (weightOf(touched) >= was) touched.forEach((j, k) => (now[j] = kept[k]))
    }
    return now.flatMap((one) => one ?? [])
  }
}

const nothing = { line: { at: [], cost: { bad: 0, beside: 0, joints: 0, curved: 0, cut: 0 }, avoided: 0 } }

const answerOf = (laid: readonly Laid[], isProven: boolean): SearchAnswer => ({
  joints: laid.map(({ line }) => line.at),
  costs: laid.map(({ line }) => line.cost),
  isProven,
})

const isBefore = (a: Node, b: Node): boolean => a.level < b.level || (a.level === b.level && a.conflicts.length < b.conflicts.length)

function neighboursOf(rails: readonly SearchRail[], staggerMm: number, laps: Laps): readonly (readonly number[])[] {
  return rails.map(({ abreasts }, i) =>
    rails.flatMap((other, j) => (i !== j && areBeside(abreasts, other.abreasts, staggerMm, laps) ? [j] : [])),
  )
}

/** Whether joints of two runs can come nearer than the stagger to each other. */
export function areBeside(a: readonly RunAbreast[], b: readonly RunAbreast[], staggerMm: number, laps: Laps): boolean {
  return a.some((one) =>
    b.some(
      (other) =>
        one.track === other.track &&
        one.side !== other.side &&
        (laps.has(one.track) || (one.lowMm < other.highMm + staggerMm && other.lowMm < one.highMm + staggerMm)),
    ),
  )
}

function conflictsOf(
  rails: readonly SearchRail[],
  laid: readonly Laid[],
  beside: readonly (readonly number[])[],
  staggerMm: number,
  laps: Laps,
): readonly Conflict[] {
  const found: Conflict[] = []
  laid.forEach((mine, a) => {
    for (const b of beside[a] ?? []) {
      const theirs = laid[b]
      if (b < a || theirs === undefined) continue
      mine.places.forEach((places, i) => {
        theirs.places.forEach((others, j) => {
          const pair = places
            .flatMap((at) => others.map((other) => ({ at, other, off: acrossMm(at, other, laps) })))
            .find(({ off }) => off !== null && off < staggerMm - slackMm)
          if (pair === undefined) return
          const [atA, atB] = [mine.line.at[i] ?? 0, theirs.line.at[j] ?? 0]
          const [isSetA, isSetB] = [isSet(rails[a], atA), isSet(rails[b], atB)]
          if ((isSetA && isSetB) || (!isSetA && isForbidden(mine.held, atA)) || (!isSetB && isForbidden(theirs.held, atB))) return
          found.push({ a, b, at: pair.at, other: pair.other, isSetA, isSetB })
        })
      })
    }
  })
  return found
}

const isSet = (rail: SearchRail | undefined, atMm: number): boolean => rail?.ask.fixed.some((own) => Math.abs(own - atMm) < 1e-6) === true
