import { pathPoseAt } from '../geom/index.ts'
import { keptOn } from '../plan/index.ts'
import type { Link } from './links.ts'
import type { RailPlace } from './types.ts'

/** A link in a chain: where it begins along it, and whether it is run through from its start. */
export interface ChainLink {
  readonly link: Link
  readonly isForward: boolean
  readonly fromMm: number
  readonly toMm: number
}

/** Rails laid end to end, their gauge lines one line. A closed one is told twice round, so that a stretch can lie over its beginning. */
export interface Chain {
  readonly links: readonly ChainLink[]
  readonly lengthMm: number
  readonly isClosed: boolean
}

interface End {
  readonly link: number
  readonly atEnd: boolean
  readonly x: number
  readonly y: number
  readonly outRad: number
  readonly isHeadLeft: boolean
}

/** Ends of two rails this near, and this much in line, are one line: as tracks that touch are. */
const contactMm = 1
const contactSine = 0.02

/** A function from rails to the lines that they are parts of; guards and checks stand alone. A line of the same rails is the same object. */
export function chainsCreate(): (links: readonly Link[]) => readonly Chain[] {
  const chainKept = keptOn<Link, Chain>()
  return (links) =>
    chainsFound(links).flatMap(({ found, isClosed }) => {
      const madeFrom = [isClosed, ...found.flatMap(({ link, isForward }) => [link, isForward])]
      const [first] = found
      return first === undefined ? [] : [chainKept(first.link, madeFrom, () => chainOf(found, isClosed))]
    })
}

interface Found {
  readonly found: readonly { readonly link: Link; readonly isForward: boolean }[]
  readonly isClosed: boolean
}

function chainsFound(links: readonly Link[]): readonly Found[] {
  const mates = matesOf(links)
  const seen = new Set<number>()
  const chains: Found[] = []
  const key = (link: number, atEnd: boolean): number => 2 * link + (atEnd ? 1 : 0)
  const walk = (first: number, isForward: boolean): void => {
    const found: { link: number; isForward: boolean }[] = []
    let at: { link: number; isForward: boolean } | null = { link: first, isForward }
    while (at && !seen.has(at.link)) {
      seen.add(at.link)
      found.push(at)
      const mate: number | undefined = mates.get(key(at.link, at.isForward))
      at = mate === undefined ? null : { link: mate >> 1, isForward: mate % 2 === 0 }
    }
    chains.push({
      found: found.flatMap(({ link, isForward: forward }) => {
        const one = links[link]
        return one === undefined ? [] : [{ link: one, isForward: forward }]
      }),
      isClosed: at !== null,
    })
  }
  links.forEach((_, i) => {
    if (!mates.has(key(i, false))) walkOnce(i, true)
    else if (!mates.has(key(i, true))) walkOnce(i, false)
  })
  links.forEach((_, i) => walkOnce(i, true))
  function walkOnce(i: number, isForward: boolean): void {
    if (!seen.has(i)) walk(i, isForward)
  }
  return chains
}

function chainOf(found: Found['found'], isClosed: boolean): Chain {
  const links: ChainLink[] = []
  let at = 0
  for (const one of found) {
    links.push({ ...one, fromMm: at, toMm: at + one.link.path.lengthMm })
    at += one.link.path.lengthMm
  }
  const lengthMm = at
  const again = isClosed ? links.map((one) => ({ ...one, fromMm: one.fromMm + lengthMm, toMm: one.toMm + lengthMm })) : []
  return { links: [...links, ...again], lengthMm, isClosed }
}

/** Which end of which rail goes on in which: both numbered 2 i for the start of rail i and 2 i + 1 for its end. */
function matesOf(links: readonly Link[]): ReadonlyMap<number, number> {
  const ends = links
    .flatMap(({ path, headSide, part }, link): End[] => {
      if (part === 'guard' || part === 'check' || path.elements.length === 0) return []
      const start = pathPoseAt(path, 0)
      const end = pathPoseAt(path, path.lengthMm)
      return [
        { link, atEnd: false, x: start.x, y: start.y, outRad: start.headingRad + Math.PI, isHeadLeft: headSide === -1 },
        { link, atEnd: true, x: end.x, y: end.y, outRad: end.headingRad, isHeadLeft: headSide === 1 },
      ]
    })
    .toSorted((a, b) => a.x - b.x)
  const pairs: { a: End; b: End; off: number }[] = []
  ends.forEach((a, i) => {
    for (let j = i + 1; j < ends.length; j++) {
      const b = ends[j]
      if (!b || b.x - a.x > contactMm) break
      const off = Math.hypot(a.x - b.x, a.y - b.y)
      const turn = a.outRad - b.outRad
      if (off < contactMm && Math.cos(turn) < 0 && Math.abs(Math.sin(turn)) < contactSine && a.isHeadLeft !== b.isHeadLeft)
        pairs.push({ a, b, off })
    }
  })
  const mates = new Map<number, number>()
  const key = ({ link, atEnd }: End): number => 2 * link + (atEnd ? 1 : 0)
  for (const { a, b } of pairs.toSorted((p, q) => p.off - q.off)) {
    if (mates.has(key(a)) || mates.has(key(b))) continue
    mates.set(key(a), key(b))
    mates.set(key(b), key(a))
  }
  return mates
}

export function chainLinkAt({ links }: Chain, atMm: number): ChainLink | null {
  return links.find(({ fromMm, toMm }) => atMm >= fromMm && atMm < toMm) ?? links.at(-1) ?? null
}

/** Distance along a link of a place of its chain, and back. */
export const alongLink = ({ isForward, fromMm, toMm }: ChainLink, atMm: number): number => (isForward ? atMm - fromMm : toMm - atMm)
export const alongChain = ({ isForward, fromMm, toMm }: ChainLink, alongMm: number): number =>
  isForward ? fromMm + alongMm : toMm - alongMm

/** Every place on a track's line that a place of a chain is abreast of, that of the rail's own track first. */
export function chainPlaces(chain: Chain, atMm: number): readonly RailPlace[] {
  const at = chainLinkAt(chain, atMm)
  if (!at) return []
  const along = Math.min(Math.max(alongLink(at, atMm), 0), at.link.path.lengthMm)
  return at.link.abreast.flatMap(({ track, side, fromMm, toMm, stationAt }) =>
    along >= fromMm - 1e-6 && along <= toMm + 1e-6 ? [{ track, rail: side, stationMm: stationAt(along) }] : [],
  )
}

/** The place of a chain; where it is on no track's line, that of the nearest part that is. */
export function chainPlaceNear(chain: Chain, atMm: number): RailPlace | null {
  const exact = chainPlaces(chain, atMm)[0]
  if (exact) return exact
  let best: { readonly off: number; readonly place: RailPlace } | null = null
  for (const one of chain.links) {
    for (const { track, side, fromMm, toMm, stationAt } of one.link.abreast) {
      const along = Math.min(Math.max(alongLink(one, atMm), fromMm), toMm)
      const off = Math.abs(alongChain(one, along) - atMm)
      if (best === null || off < best.off) best = { off, place: { track, rail: side, stationMm: stationAt(along) } }
    }
  }
  return best?.place ?? null
}
