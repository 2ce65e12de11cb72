import { pathCurvatureAt } from '../geom/index.ts'
import type { Id, RailJoint as OwnJoint, Railway, Stock } from '../plan/types.ts'
import { alongChain, alongLink, chainLinkAt, chainPlaceNear, chainPlaces } from './chains.ts'
import type { Cut } from './runs.ts'
import { costWeight, isForbidden, lineSolve } from './solve.ts'
import type { LineAsk, LineCost } from './solve.ts'
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
const rounds = 3

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
  readonly cut: Cut
  readonly zones: readonly JointZone[]
  readonly ask: LineAsk
  readonly own: readonly { readonly atMm: number; readonly id: Id }[]
  /** What it would come to if no other rail lay beside it. */
  readonly alone: LineCost
  readonly tracks: ReadonlySet<Id>
  at: readonly number[]
  cost: LineCost
  /** Of its joints, on every track that they are abreast of. */
  places: readonly RailPlace[]
}

/**
 * Joints of all rails. Each rail has the best joints that there are (lineSolve), kept the stagger off joints of rails that have theirs;
 * the longest come first, and those that fared worse for their neighbours are looked at again. Where none fared worse the whole is
 * proven: no rail could do better even alone.
 */
export function jointPlan(
  cuts: readonly Cut[],
  zonesOfCut: (cut: Cut) => readonly JointZone[],
  railway: Railway,
  stocks: readonly Stock[],
  ownJoints: readonly OwnJoint[],
  lengthOf: ReadonlyMap<Id, number>,
): JointPlan {
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
      zones: shifted(zones, -cut.fromMm),
      beside: [],
      fixed: mine.map(({ atMm }) => atMm - cut.fromMm),
      isCurved: (at) => isCurvedAt(cut, cut.fromMm + at),
    }
    const { at, cost } = lineSolve(ask)
    works.push({ cut, zones, ask, own: mine, alone: cost, tracks: tracksOf(cut), at, cost, places: [] })
  }
  const solved = works.toSorted((a, b) => b.ask.lengthMm - a.ask.lengthMm)
  const besideOf = neighbours(solved)
  const done = new Set<Work>()
  const settle = (work: Work): void => {
    const others = (besideOf.get(work) ?? []).filter((one) => done.has(one))
    resolve(work, others, rules.staggerMm, lengthOf)
    done.add(work)
  }
  solved.forEach(settle)
  const hasLost = (work: Work): boolean => Math.floor(costWeight(work.cost) / 1e4) > Math.floor(costWeight(work.alone) / 1e4)
  for (let round = 0; round < rounds && solved.some(hasLost); round++) {
    for (const work of solved.filter(hasLost)) {
      // Its neighbours make room: it chooses first, and each of them is looked at again behind it.
      const touched = [work, ...(besideOf.get(work) ?? [])]
      const before = touched.map(({ at, cost, places }) => ({ at, cost, places }))
      const weight = (): number => touched.reduce((sum, one) => sum + costWeight(one.cost), 0)
      const was = weight()
      for (const one of touched) done.delete(one)
      touched.forEach(settle)
      if (weight() >= was) touched.forEach((one, i) => Object.assign(one, before[i]))
    }
  }
  for (const [code, lengthMm] of wanted) problems.push({ kind: 'noRailStock', code, lengthMm, others: [...sticks.keys()] })
  const planned = cuts.map((cut): Planned => {
    const work = works.find((one) => one.cut === cut)
    if (!work) return { cut, joints: [], longestMm: sticks.get(cut.code) ?? null }
    const joints = work.at.map((at) => {
      const atMm = cut.fromMm + at
      return { atMm, isOwn: work.own.find((one) => Math.abs(one.atMm - atMm) < 1e-6)?.id ?? null }
    })
    return { cut, joints, longestMm: work.ask.longestMm }
  })
  for (const work of works) problems.push(...zoneProblems(work, cutting.jointAllowanceMm))
  problems.push(...staggerProblems(planned, rules.staggerMm, lengthOf))
  return { planned, problems, isProven: !solved.some(hasLost) }
}

const shifted = <Z extends { readonly fromMm: number; readonly toMm: number }>(zones: readonly Z[], byMm: number): readonly Z[] =>
  zones.map((zone) => ({ ...zone, fromMm: zone.fromMm + byMm, toMm: zone.toMm + byMm }))

export function isCurvedAt({ chain }: Cut, atMm: number): boolean {
  const at = chainLinkAt(chain, atMm)
  if (!at) return false
  const along = Math.min(Math.max(alongLink(at, atMm), 0), at.link.path.lengthMm)
  return Math.abs(pathCurvatureAt(at.link.path, along)) > straightPerMm
}

/** Solves a rail anew beside rails that have their joints. */
function resolve(work: Work, others: readonly Work[], staggerMm: number, lengthOf: ReadonlyMap<Id, number>): void {
  const stagger = staggerZones(work.cut, others, staggerMm, lengthOf)
  const { at, cost } = lineSolve({ ...work.ask, beside: shifted(stagger, -work.cut.fromMm) })
  work.at = at
  work.cost = cost
  work.places = at.flatMap((along) => chainPlaces(work.cut.chain, work.cut.fromMm + along))
}

/** Stretches of a rail abreast of which, within the stagger, another rail has a joint on the other side of the same track. */
function staggerZones(
  cut: Cut,
  others: readonly Work[],
  staggerMm: number,
  lengthOf: ReadonlyMap<Id, number>,
): readonly { readonly fromMm: number; readonly toMm: number }[] {
  const zones: { readonly fromMm: number; readonly toMm: number }[] = []
  const places = others.flatMap((other) => other.places)
  for (const one of cut.chain.links) {
    if (one.toMm <= cut.fromMm || one.fromMm >= cut.toMm) continue
    for (const near of one.link.abreast) {
      for (const place of places) {
        if (place.track !== near.track || place.rail === near.side) continue
        const lap = lengthOf.get(place.track)
        for (const shift of lap === undefined ? [0] : [-lap, 0, lap]) {
          const [from, to] = [
            Math.max(near.lowMm, place.stationMm + shift - staggerMm),
            Math.min(near.highMm, place.stationMm + shift + staggerMm),
          ]
          if (to <= from) continue
          const ends = [alongChain(one, near.alongAt(from)), alongChain(one, near.alongAt(to))]
          zones.push({ fromMm: Math.min(...ends), toMm: Math.max(...ends) })
        }
      }
    }
  }
  return zones
}

const tracksOf = (cut: Cut): ReadonlySet<Id> =>
  new Set(
    cut.chain.links.flatMap((one) => (one.toMm > cut.fromMm && one.fromMm < cut.toMm ? one.link.abreast.map(({ track }) => track) : [])),
  )

/** Rails that have a track in common, for each rail the others. */
function neighbours(works: readonly Work[]): ReadonlyMap<Work, readonly Work[]> {
  const byTrack = new Map<Id, Work[]>()
  for (const work of works) {
    for (const track of work.tracks) {
      const list = byTrack.get(track)
      if (list) list.push(work)
      else byTrack.set(track, [work])
    }
  }
  return new Map(
    works.map((work) => [work, [...new Set([...work.tracks].flatMap((track) => byTrack.get(track) ?? []))].filter((one) => one !== work)]),
  )
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
function zoneProblems({ cut, zones, at, own, ask, cost }: Work, allowanceMm: number): readonly RailProblem[] {
  const doesMm = cost.bad > 0 ? stickThatDoes(ask) : null
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

function staggerProblems(planned: readonly Planned[], staggerMm: number, lengthOf: ReadonlyMap<Id, number>): readonly RailProblem[] {
  const bySide = new Map<Id, { readonly left: number[]; readonly right: number[] }>()
  for (const { cut, joints } of planned) {
    for (const { atMm } of joints) {
      for (const { track, rail, stationMm } of chainPlaces(cut.chain, atMm)) {
        const sides = bySide.get(track) ?? { left: [], right: [] }
        bySide.set(track, sides)
        sides[rail].push(stationMm)
      }
    }
  }
  return [...bySide].flatMap(([track, { left, right }]) =>
    left.flatMap((stationMm) =>
      right.flatMap((other): RailProblem[] => {
        const off = Math.abs(stationMm - other)
        const lap = lengthOf.get(track)
        const haveMm = lap === undefined ? off : Math.min(off, Math.abs(lap - off))
        if (haveMm >= staggerMm - staggerSlackMm) return []
        const place = (rail: 'left' | 'right', at: number): RailPlace => ({ track, rail, stationMm: at })
        return [{ kind: 'stagger', place: place('left', stationMm), other: place('right', other), haveMm, needMm: staggerMm }]
      }),
    ),
  )
}
