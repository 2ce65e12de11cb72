import { pathNearest, poseToPlan } from '../geom/index.ts'
import type { Point } from '../geom/types.ts'
import type { NetworkCrossing, NetworkTurnout } from '../network/types.ts'
import { alongChain } from './chains.ts'
import type { Chain, ChainLink } from './chains.ts'
import type { Link } from './links.ts'
import type { BreakKind, RailBreak, RailOwner, RunKind } from './types.ts'

/** Rail between two breaks of a chain, its ends in the chain's own measure. */
export interface Cut {
  readonly chain: Chain
  readonly kind: RunKind
  readonly code: number
  readonly fromMm: number
  readonly toMm: number
  readonly isClosed: boolean
  readonly start: RailBreak
  readonly end: RailBreak
  /** The link that it lies in for the most part. */
  readonly main: ChainLink
}

interface ChainBreak {
  readonly atMm: number
  readonly kind: BreakKind
  readonly gapMm: number
}

/** A gap this near to a rail's line lies on it. */
const onRailMm = 0.02
/** Breaks nearer to each other are one. */
const sameMm = 1
/** A gap that was moved into a bay stands for the end of a frog up to so many tie spacings off. */
const baySpacings = 1.6

const isRail = (part: Link['part']): boolean => part === 'plain' || part === 'stock' || part === 'closure'

/** Isolating gaps of a work in the plan. */
export interface WorkGaps {
  readonly owner: RailOwner
  readonly at: readonly Point[]
  readonly spacingMm: number
}

export function turnoutGaps({ turnout, result }: NetworkTurnout): WorkGaps | null {
  if (!result.ok) return null
  const at = result.geometry.gaps.map((gap) => poseToPlan(result.pose, gap.at))
  return { owner: { kind: 'turnout', turnout: turnout.id }, at, spacingMm: result.geometry.request.tieSpacingMm }
}

export function crossingGaps({ id, pose, result }: NetworkCrossing): WorkGaps | null {
  if (!result.ok) return null
  const at = result.crossing.gaps.map((gap) => poseToPlan(pose, gap.at))
  return { owner: { kind: 'crossing', crossing: id }, at, spacingMm: result.crossing.request.tieSpacingMm }
}

export function ownerKey(owner: RailOwner): string {
  return owner.kind === 'track'
    ? `track:${owner.track}`
    : owner.kind === 'turnout'
      ? `turnout:${owner.turnout}`
      : `crossing:${owner.crossing}`
}

/** A chain cut where the trackwork cuts it: at gaps, at heels of points, and where rails of special work end. */
export function chainCuts(chain: Chain, gaps: ReadonlyMap<string, WorkGaps>, kerfMm: number): readonly Cut[] {
  const lap = chain.links.filter(({ fromMm }) => fromMm < chain.lengthMm - 1e-9)
  const breaks = breaksOf(chain, lap, gaps, kerfMm)
  const cut = (from: ChainBreak, to: ChainBreak, isClosed: boolean): Cut[] => {
    const main = mainLink(chain, from.atMm, to.atMm)
    if (!main || to.atMm - from.atMm <= 1e-9) return []
    const { part, code } = main.link
    return [
      {
        chain,
        kind: part === 'stock' ? 'plain' : part,
        code,
        fromMm: from.atMm,
        toMm: to.atMm,
        isClosed,
        start: { kind: from.kind, gapMm: from.gapMm },
        end: { kind: to.kind, gapMm: to.gapMm },
        main,
      },
    ]
  }
  if (chain.isClosed) {
    const [first] = breaks
    if (!first) return cut({ atMm: 0, kind: 'end', gapMm: 0 }, { atMm: chain.lengthMm, kind: 'end', gapMm: 0 }, true)
    const round = [...breaks, { ...first, atMm: first.atMm + chain.lengthMm }]
    return round.slice(1).flatMap((to, i) => cut(round[i] ?? to, to, false))
  }
  // Rail that stops short of its track's end does so for a flangeway.
  const endOf = (one: ChainLink | undefined, isLast: boolean): BreakKind => {
    const [start, end] = one?.link.isTrackEnd ?? [false, false]
    return (one?.isForward === isLast ? end : start) ? 'end' : 'open'
  }
  const all: ChainBreak[] = [
    { atMm: 0, kind: endOf(lap[0], false), gapMm: 0 },
    ...breaks,
    { atMm: chain.lengthMm, kind: endOf(lap.at(-1), true), gapMm: 0 },
  ]
  return all.slice(1).flatMap((to, i) => cut(all[i] ?? to, to, false))
}

function mainLink({ links }: Chain, fromMm: number, toMm: number): ChainLink | null {
  let best: ChainLink | null = null
  let most = 0
  for (const one of links) {
    const shared = Math.min(toMm, one.toMm) - Math.max(fromMm, one.fromMm)
    if (shared > most) [best, most] = [one, shared]
  }
  return best
}

function breaksOf(chain: Chain, lap: readonly ChainLink[], gaps: ReadonlyMap<string, WorkGaps>, kerfMm: number): readonly ChainBreak[] {
  const found: ChainBreak[] = []
  const isNear = (atMm: number, withinMm: number): boolean =>
    found.some((one) => {
      const off = Math.abs(one.atMm - atMm)
      return Math.min(off, chain.isClosed ? Math.abs(chain.lengthMm - off) : off) <= withinMm
    })
  const spacingOf = (one: ChainLink): number => gaps.get(ownerKey(one.link.owner))?.spacingMm ?? 0
  for (const [i, one] of lap.entries()) {
    const work = gaps.get(ownerKey(one.link.owner))
    for (const at of work?.at ?? []) {
      const near = pathNearest(one.link.path, at)
      if (near.distanceMm > onRailMm) continue
      const atMm = alongChain(one, near.stationMm)
      // Behind the last rail of a line there is nothing to part.
      const endMm = baySpacings * spacingOf(one)
      const isTail = !chain.isClosed && ((i === 0 && atMm < endMm) || (i === lap.length - 1 && chain.lengthMm - atMm < endMm))
      if (!isTail && !isNear(atMm, sameMm)) found.push({ atMm, kind: 'gap', gapMm: kerfMm })
    }
  }
  const joins = lap.map((one, i) => ({ before: lap[i - 1] ?? (chain.isClosed ? lap.at(-1) : undefined), one }))
  for (const { before, one } of joins) {
    if (!before || (before === one && lap.length > 1)) continue
    const [a, b] = [before.link, one.link]
    const isHeel = (a.part === 'point') !== (b.part === 'point')
    if (isHeel) found.push({ atMm: one.fromMm, kind: 'heel', gapMm: 0 })
    else if (a.code !== b.code && !isNear(one.fromMm, sameMm)) found.push({ atMm: one.fromMm, kind: 'section', gapMm: 0 })
    else if (!(isRail(a.part) && isRail(b.part)) && a !== b) {
      const bayMm = baySpacings * Math.max(spacingOf(before), spacingOf(one))
      if (!isNear(one.fromMm, bayMm)) found.push({ atMm: one.fromMm, kind: 'work', gapMm: 0 })
    }
  }
  return found.toSorted((a, b) => a.atMm - b.atMm)
}
