import { pathCurvatureAt } from '../geom/index.ts'
import { keptFor, keptOn } from '../plan/index.ts'
import type { Id, RailJoint as OwnJoint, Railway, Stock } from '../plan/types.ts'
import { alongChain, alongLink, chainLinkAt, chainPlaceNear, chainPlaces } from './chains.ts'
import type { Cut } from './runs.ts'
import { areBeside, besideSolve } from './search.ts'
import type { SearchAnswer, SearchRail } from './search.ts'
import { isForbidden, lineSolve } from './solve.ts'
import type { LineAsk } from './solve.ts'
import { abreastsOf } from './stagger.ts'
import type { Laps } from './stagger.ts'
import type { JointZone, RailPlace, RailProblem } from './types.ts'

/** A cut with its joints. */
export interface Planned {
  readonly cut: Cut
  /** In the chain's measure, in order; of a closed cut within its one lap. */
  readonly joints: readonly { readonly atMm: number; readonly isOwn: Id | null }[]
  /** Longest piece between two joints; null: there is nothing to cut it from. */
  readonly longestMm: number | null
}

export interface JointPlan {
  readonly planned: readonly Planned[]
  readonly problems: readonly RailProblem[]
  readonly isProven: boolean
}

/** Straighter than this is straight: ten kilometres. */
const straightPerMm = 1e-7
const atBreakMm = 0.5

/** Longest stick of each code: of those that can be bought, else of those at home. */
export function longestSticks(stocks: readonly Stock[]): ReadonlyMap<number, number> {
  const longest = new Map<number, { readonly mm: number; readonly canBuy: boolean }>()
  for (const { of, onHand, canBuy } of stocks) {
    if (of.kind !== 'rail' || !(of.lengthMm > 0) || (!canBuy && onHand <= 0)) continue
    const before = longest.get(of.code)
    const isBetter = !before || (canBuy === before.canBuy ? of.lengthMm > before.mm : canBuy)
    if (isBetter) longest.set(of.code, { mm: of.lengthMm, canBuy })
  }
  return new Map([...longest].map(([code, { mm }]) => [code, mm]))
}

export const isJointed = ({ kind }: Cut): boolean => kind === 'plain' || kind === 'closure'

interface Work {
  readonly rail: SearchRail
  readonly zones: readonly JointZone[]
  readonly own: readonly { readonly atMm: number; readonly id: Id }[]
}

/**
 * A function that plans the joints of all rails: of rails that lie beside each other the best together (besideSolve), lot by lot. A lot that is as
 * it was is not solved again.
 */
export function jointPlanner(): (
  cuts: readonly Cut[],
  zonesOfCut: (cut: Cut) => readonly JointZone[],
  railway: Railway,
  stocks: readonly Stock[],
  ownJoints: readonly OwnJoint[],
  laps: Laps,
) => JointPlan {
  const abreastsKept = keptFor(abreastsOf)
  const solveKept = keptOn<Cut, SearchAnswer>()
  const stickKept = keptOn<Cut, number | null>()
  const placesKept = keptOn<Cut, readonly RailPlace[]>()
  return (cuts, zonesOfCut, railway, stocks, ownJoints, laps) => {
    const { joints: rules, cutting } = railway.laying
    const sticks = longestSticks(stocks)
    const problems: RailProblem[] = []
    const own = ownPlaces(cuts, ownJoints, problems)
    const works: Work[] = []
    const wanted = new Map<number, number>()
    for (const cut of cuts.filter(isJointed)) {
      const stick = sticks.get(cut.code)
      if (stick === undefined || stick <= cutting.jointAllowanceMm) {
        wanted.set(cut.code, (wanted.get(cut.code) ?? 0) + cut.toMm - cut.fromMm)
        continue
      }
      const zones = zonesOfCut(cut)
      const mine = own.get(cut) ?? []
      const ask: LineAsk = {
        lengthMm: cut.toMm - cut.fromMm,
        isClosed: cut.isClosed,
        longestMm: stick - cutting.jointAllowanceMm,
        leastMm: rules.leastPieceMm,
        zones: zones.map(({ rule, fromMm, toMm }) => ({ rule, fromMm: fromMm - cut.fromMm, toMm: toMm - cut.fromMm })),
        beside: [],
        avoid: [],
        fixed: mine.map(({ atMm }) => atMm - cut.fromMm),
        isCurved: (at) => isCurvedAt(cut, cut.fromMm + at),
      }
      works.push({ rail: { cut, ask, abreasts: abreastsKept(cut) }, zones, own: mine })
    }
    for (const [code, lengthMm] of wanted) problems.push({ kind: 'noRailStock', code, lengthMm, others: [...sticks.keys()] })
    const planned = new Map<Cut, Planned>()
    let isProven = true
    for (const lot of lotsOf(works, rules.staggerMm, laps)) {
      const rails = lot.map(({ rail }) => rail)
      const [first] = rails
      if (first === undefined) continue
      const answer = solveKept(first.cut, lotMadeFrom(lot, rules.staggerMm, laps), () => besideSolve(rails, rules.staggerMm, laps))
      isProven &&= answer.isProven
      lot.forEach((work, i) => {
        const { cut, ask } = work.rail
        const at = answer.joints[i] ?? []
        const { longestMm, leastMm, fixed } = ask
        const doesMm =
          (answer.costs[i]?.bad ?? 0) === 0 ? null : stickKept(cut, [work.zones, longestMm, leastMm, ...fixed], () => stickThatDoes(ask))
        problems.push(...zoneProblems(work, at, doesMm, cutting.jointAllowanceMm))
        const joints = at.map((along) => {
          const atMm = cut.fromMm + along
          return { atMm, isOwn: work.own.find((one) => Math.abs(one.atMm - atMm) < 1e-6)?.id ?? null }
        })
        planned.set(cut, { cut, joints, longestMm: ask.longestMm })
      })
    }
    const all = cuts.map((cut): Planned => planned.get(cut) ?? { cut, joints: [], longestMm: sticks.get(cut.code) ?? null })
    const places = all.flatMap(({ cut, joints }) => {
      const at = joints.map(({ atMm }) => atMm)
      return placesKept(cut, at, () => at.flatMap((atMm) => chainPlaces(cut.chain, atMm)))
    })
    problems.push(...staggerProblems(places, rules.staggerMm, laps))
    return { planned: all, problems, isProven }
  }
}

/** All that the joints of a lot are made from, besides its rails' own lines. */
const lotMadeFrom = (lot: readonly Work[], staggerMm: number, laps: Laps): readonly unknown[] => [
  staggerMm,
  ...lot.flatMap(({ rail: { cut, ask, abreasts }, zones }) => [
    cut,
    zones,
    ask.longestMm,
    ask.leastMm,
    ask.fixed.length,
    ...ask.fixed,
    ...abreasts.map(({ track }) => laps.get(track)),
  ]),
]

/** Rails that can come too near to each other, directly or by others between them, in their order. */
function lotsOf(works: readonly Work[], staggerMm: number, laps: Laps): readonly (readonly Work[])[] {
  const byTrack = new Map<Id, number[]>()
  works.forEach(({ rail }, i) => {
    for (const track of new Set(rail.abreasts.map((one) => one.track))) {
      const list = byTrack.get(track)
      if (list === undefined) byTrack.set(track, [i])
      else list.push(i)
    }
  })
  const lotOf = works.map((_, i) => i)
  const rootOf = (i: number): number => {
    let at = i
    while (lotOf[at] !== at) at = lotOf[at] ?? at
    return at
  }
  for (const list of byTrack.values()) {
    for (const [n, i] of list.entries()) {
      for (const j of list.slice(n + 1)) {
        const [a, b] = [works[i], works[j]]
        if (a === undefined || b === undefined || rootOf(i) === rootOf(j)) continue
        if (areBeside(a.rail.abreasts, b.rail.abreasts, staggerMm, laps)) lotOf[rootOf(j)] = rootOf(i)
      }
    }
  }
  const lots = new Map<number, Work[]>()
  works.forEach((work, i) => {
    const root = rootOf(i)
    const lot = lots.get(root)
    if (lot === undefined) lots.set(root, [work])
    else lot.push(work)
  })
  return [...lots.values()]
}

export function isCurvedAt({ chain }: Cut, atMm: number): boolean {
  const at = chainLinkAt(chain, atMm)
  if (!at) return false
  const along = Math.min(Math.max(alongLink(at, atMm), 0), at.link.path.lengthMm)
  return Math.abs(pathCurvatureAt(at.link.path, along)) > straightPerMm
}

/** The builder's own joints on the rails that they lie on. */
function ownPlaces(
  cuts: readonly Cut[],
  joints: readonly OwnJoint[],
  problems: RailProblem[],
): ReadonlyMap<Cut, readonly { readonly atMm: number; readonly id: Id }[]> {
  const found = new Map<Cut, { readonly atMm: number; readonly id: Id }[]>()
  for (const { id, track, rail, stationMm } of joints) {
    const place: RailPlace = { track, rail, stationMm }
    const hits = cuts.filter(isJointed).flatMap((cut) =>
      cut.chain.links.flatMap((one) =>
        one.link.abreast.flatMap((near) => {
          if (near.track !== track || near.side !== rail) return []
          if (stationMm < near.lowMm || stationMm > near.highMm) return []
          const atMm = alongChain(one, near.alongAt(stationMm))
          return atMm >= cut.fromMm - 1e-6 && atMm <= cut.toMm + 1e-6 ? [{ cut, atMm }] : []
        }),
      ),
    )
    const hit = hits.find(({ cut, atMm }) => cut.isClosed || (atMm > cut.fromMm + atBreakMm && atMm < cut.toMm - atBreakMm))
    if (hit)
      found.set(
        hit.cut,
        [...(found.get(hit.cut) ?? []), { atMm: hit.atMm, id }].toSorted((a, b) => a.atMm - b.atMm),
      )
    else problems.push({ kind: 'jointOffRail', joint: id, place, why: hits.length > 0 ? 'atBreak' : 'noRail' })
  }
  return found
}

/** Joints in places where a rule forbids them, with the stick that would do for the whole rail. */
function zoneProblems(
  { rail: { cut, ask }, zones, own }: Work,
  at: readonly number[],
  doesMm: number | null,
  allowanceMm: number,
): readonly RailProblem[] {
  return at.flatMap((along): RailProblem[] => {
    const atMm = cut.fromMm + along
    const here = zones.filter(({ fromMm, toMm }) => isForbidden([{ fromMm, toMm }], atMm))
    const place = chainPlaceNear(cut.chain, atMm)
    if (here.length === 0 || place === null) return []
    const isOwn = own.find((one) => Math.abs(one.atMm - atMm) < 1e-6)?.id ?? null
    const lengthMm = isOwn === null && doesMm !== null ? doesMm + allowanceMm : null
    const rules = [...new Set(here.map(({ rule }) => rule))]
    return [{ kind: 'jointInZone', place, rules, isOwn, longestMm: ask.longestMm + allowanceMm, lengthMm }]
  })
}

const stickStep = 1.05

/** The first stick, by steps of a twentieth, with which a rail breaks no rule, whole millimetres; null: not even one as long as itself. */
function stickThatDoes(ask: LineAsk): number | null {
  for (let stick = ask.longestMm; ; stick *= stickStep) {
    const longestMm = Math.ceil(Math.min(stick, ask.lengthMm))
    if (longestMm > ask.longestMm && lineSolve({ ...ask, longestMm }).cost.bad === 0) return longestMm
    if (stick >= ask.lengthMm) return null
  }
}

const staggerSlackMm = 0.05

function staggerProblems(places: readonly RailPlace[], staggerMm: number, laps: Laps): readonly RailProblem[] {
  const bySide = new Map<Id, { readonly left: number[]; readonly right: number[] }>()
  for (const { track, rail, stationMm } of places) {
    const sides = bySide.get(track) ?? { left: [], right: [] }
    bySide.set(track, sides)
    sides[rail].push(stationMm)
  }
  return [...bySide].flatMap(([track, { left, right }]) =>
    left.flatMap((stationMm) =>
      right.flatMap((other): RailProblem[] => {
        const off = Math.abs(stationMm - other)
        const lap = laps.get(track)
        const haveMm = lap === undefined ? off : Math.min(off, Math.abs(lap - off))
        if (haveMm >= staggerMm - staggerSlackMm) return []
        const place = (rail: 'left' | 'right', at: number): RailPlace => ({ track, rail, stationMm: at })
        return [{ kind: 'stagger', place: place('left', stationMm), other: place('right', other), haveMm, needMm: staggerMm }]
      }),
    ),
  )
}
