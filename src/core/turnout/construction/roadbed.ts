import {
  angleBetween,
  pathFromElements,
  pathIntersections,
  pathNearest,
  pathOffsetPoint,
  pathPoseAt,
  pathReverse,
  pathSlice,
  pathStart,
  pointDistance,
  rootBrent,
} from '../../geom/index.ts'
import type { Path, Point } from '../../geom/types.ts'
import type { RouteName, WorkRoute } from '../work/types.ts'
import type { BenchPractice, BuiltMeasures, BuiltWork, RoadbedCard } from './types.ts'

/** Stations along the route at which its edges are told. */
const steps = 120
/** The card begins where it is this thick: thinner, cork crumbles. Common practice, no source. */
const thinnestMm = 1
const edgeToleranceMm = 1e-6
/** A route that leaves flatter than this does not leave the host's roadbed. */
const leastAngleRad = 0.01

/**
 * For every leaving route the card to cut its roadbed along: the band of half the roadbed's width on both sides of its
 * centreline, less the band of the host, from where it is a millimetre wide to where both have parted. Along the host it
 * butts against the host's edge, from the crotch on it has an edge of its own.
 *
 * Exactness:  edges told at 120 stations; each point lies on the route's offset or on the host's.
 * Outcome:    none for a route that does not come out of the host's roadbed.
 */
export function roadbedCards(work: BuiltWork, practice: Pick<BenchPractice, 'roadbedMm' | 'shoulderMm'>): readonly RoadbedCard[] {
  // Of a wye, whose host has no track there, one leg is laid whole and the other against it.
  const host = work.routes.find(({ name }) => name === 'straight') ?? work.routes[0]
  const last = work.ties.at(-1)
  if (host === undefined || last === undefined) return []
  const footHalf = practice.roadbedMm / 2 + practice.shoulderMm
  return work.diverging.flatMap(({ route }): RoadbedCard | readonly RoadbedCard[] => {
    const leaving = work.routes.find(({ name }) => name === route)
    // A slip lies between two tracks: slipCards.
    if (leaving === undefined || leaving.name === host.name || leaving.name.startsWith('slip-')) return []
    const reach = reachToPart(leaving.centre, host.centre, 2 * footHalf + work.measures.tieSpacingMm)
    if (reach === null) return []
    const centre = lengthened(leaving.centre, Math.max(reach, last.stationMm - leaving.centre.lengthMm))
    const main = lengthened(host.centre, centre.lengthMm)
    return roadbedCardBeside(route, centre, main, practice) ?? []
  })
}

/** The card of one route beside a host, both told by their centrelines in one frame; null: it does not come out of the host's roadbed. */
export function roadbedCardBeside(
  route: RouteName,
  centre: Path,
  host: Path,
  { roadbedMm, shoulderMm }: Pick<BenchPractice, 'roadbedMm' | 'shoulderMm'>,
): RoadbedCard | null {
  const top = cardEdge(centre, host, roadbedMm / 2)
  const foot = cardEdge(centre, host, roadbedMm / 2 + shoulderMm)
  return top && foot && { route, top: top.ring, foot: foot.ring, crotchRad: top.crotchRad, taperMm: pointDistance(top.begin, top.crotch) }
}

/**
 * The cards of a crossing's second track, one on either side of the first: from its roadbed's edge on. Each is told as the track runs away
 * from the crossing.
 */
export function crossingCards(
  routes: readonly WorkRoute[],
  { tieSpacingMm }: Pick<BuiltMeasures, 'tieSpacingMm'>,
  practice: Pick<BenchPractice, 'roadbedMm' | 'shoulderMm'>,
): readonly RoadbedCard[] {
  const [first, second] = (['straight', 'other'] as const).map((name) => routes.find((route) => route.name === name))
  if (!first || !second) return []
  const footHalf = practice.roadbedMm / 2 + practice.shoulderMm
  const [meeting] = pathIntersections(first.centre, second.centre, edgeToleranceMm)
  if (!meeting) return []
  const halves = [
    pathReverse(pathSlice(second.centre, 0, meeting.stationB)),
    pathSlice(second.centre, meeting.stationB, second.centre.lengthMm),
  ]
  return halves.flatMap((half, i): RoadbedCard | readonly RoadbedCard[] => {
    const reach = reachToPart(half, first.centre, 2 * footHalf + tieSpacingMm)
    if (reach === null) return []
    const centre = lengthened(half, reach)
    const ahead = i === 0 ? pathReverse(first.centre) : first.centre
    const main = pathReverse(lengthened(pathReverse(lengthened(ahead, centre.lengthMm)), centre.lengthMm))
    return roadbedCardBeside(second.name, centre, main, practice) ?? []
  })
}

/**
 * The cards of a crossing's slips: what a slip's roadbed adds between those of the two tracks. It butts against both, from where it comes out of the one by
 * a millimetre to where it goes into the other; none where it does not come out at all.
 */
export function slipCards(
  routes: readonly WorkRoute[],
  { roadbedMm, shoulderMm }: Pick<BenchPractice, 'roadbedMm' | 'shoulderMm'>,
): readonly RoadbedCard[] {
  const tracks = routes.filter(({ name }) => name === 'straight' || name === 'other').map(({ centre }) => centre)
  return routes
    .filter(({ name }) => name.startsWith('slip-'))
    .flatMap(({ name, centre }): RoadbedCard | readonly RoadbedCard[] => {
      const away = name === 'slip-left' ? 1 : -1
      const [top, foot] = [roadbedMm / 2, roadbedMm / 2 + shoulderMm].map((half) => sliver(centre, tracks, away, half))
      const [first, last] = [top?.[0], top?.[top.length / 2 - 1]]
      return top && foot && first && last ? { route: name, top, foot, crotchRad: null, taperMm: pointDistance(first, last) } : []
    })
}

/** What a band of `half` about a route has outside of those about the tracks, on one side, as a ring: along their edges, and back along its own. */
function sliver(route: Path, tracks: readonly Path[], away: 1 | -1, half: number): readonly Point[] | null {
  const outside = (p: Point): number => Math.min(...tracks.map((track) => Math.abs(pathNearest(track, p).offsetMm))) - half
  const [outer, inner]: [Point[], Point[]] = [[], []]
  for (let i = 0; i <= steps; i++) {
    const station = (route.lengthMm * i) / steps
    const out = pathOffsetPoint(route, station, away * half)
    if (outside(out) < thinnestMm) continue
    const edge = rootBrent((offset) => outside(pathOffsetPoint(route, station, away * offset)), 0, half, edgeToleranceMm)
    if (!edge.ok) continue
    outer.push(out)
    inner.push(pathOffsetPoint(route, station, away * edge.x))
  }
  if (inner.length < 2) return null
  const ring = [...inner, ...outer.toReversed()]
  return away === 1 ? ring : ring.toReversed()
}

/** How far the route has to run on, straight, to be so far off the host, straight as well; null: they do not part. */
function reachToPart(route: Path, host: Path, apartMm: number): number | null {
  const near = pathNearest(host, route.end)
  const angle = Math.abs(angleBetween(pathPoseAt(host, near.stationMm).headingRad, route.end.headingRad))
  return angle < leastAngleRad ? null : Math.max(0, (apartMm - Math.abs(near.offsetMm)) / Math.sin(angle))
}

/** A path run on straight by a length. */
function lengthened(path: Path, byMm: number): Path {
  return pathFromElements(pathStart(path), [...path.elements, { lengthMm: byMm, k0: 0, k1: 0 }])
}

interface CardEdge {
  readonly ring: readonly Point[]
  readonly begin: Point
  readonly crotch: Point
  readonly crotchRad: number
}

/** The band of `half` about the route less that about the host, as a ring: out along the outer edge, back along the inner. */
function cardEdge(route: Path, host: Path, half: number): CardEdge | null {
  const away = pathNearest(host, route.end).offsetMm >= 0 ? 1 : -1
  const outer: Point[] = []
  const inner: Point[] = []
  let crotch: { readonly at: Point; readonly rad: number } | null = null
  for (let i = 0; i <= steps; i++) {
    const station = (route.lengthMm * i) / steps
    const out = pathOffsetPoint(route, station, away * half)
    const outFrom = pathNearest(host, out)
    if (away * outFrom.offsetMm < half + thinnestMm) continue
    const within = pathOffsetPoint(route, station, -away * half)
    const inFrom = pathNearest(host, within)
    outer.push(out)
    if (away * inFrom.offsetMm < half) {
      // Where the line from edge to edge comes out of the host's roadbed.
      const over = (offset: number): number => away * pathNearest(host, pathOffsetPoint(route, station, away * offset)).offsetMm - half
      const edge = rootBrent(over, -half, half, edgeToleranceMm)
      if (edge.ok) inner.push(pathOffsetPoint(route, station, away * edge.x))
    } else {
      crotch ??= {
        at: within,
        rad: Math.abs(angleBetween(pathPoseAt(host, inFrom.stationMm).headingRad, pathPoseAt(route, station).headingRad)),
      }
      inner.push(within)
    }
  }
  const [begin] = inner
  if (begin === undefined || crotch === null) return null
  const ring = [...inner, ...outer.toReversed()]
  return { ring: away === 1 ? ring : ring.toReversed(), begin, crotch: crotch.at, crotchRad: crotch.rad }
}
