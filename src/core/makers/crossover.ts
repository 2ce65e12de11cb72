import { angleBetween, pathNearest, poseAhead, poseOffset, poseToLocal } from '../geom/index.ts'
import { railwayOfClass } from '../plan/index.ts'
import type { CrossoverNumbers, Facing, Hand } from '../plan/types.ts'
import { crossoverCentres, crossoverFigures } from './figures.ts'
import { crossoverLeaning } from './leaning.ts'
import { scissorsCentres } from './scissors.ts'
import type { CrossoverPair } from './scissors.ts'
import type { Shape } from './shape.ts'
import { done, facingOpposite, fail, handOpposite, hostPose, nearestIn, stationOn, stretchOf } from './site.ts'
import type { Host, Range, Site, Straight } from './site.ts'
import type { Outcome, Parts, TrackPart, TurnoutPart } from './types.ts'

/** Two tracks are parallel when they run together by less than this: legs must meet in line to 1e-9 rad. */
const PARALLEL_RAD = 1e-9

/** Turnouts on the host and on the other track of one crossover. */
type Pair = readonly [Shape, Shape]

/** One crossover: its turnouts, its hand, and how far its middle lies ahead of the maker's station. */
interface One {
  readonly pair: Pair
  readonly hand: Hand
  readonly aheadMm: number
}

/** A straight of the host where one of the other track lies beside it; distances along the host's stations. */
interface Beside extends Range {
  readonly straight: Straight
  /** The whole straight of the other track, which may be longer. */
  readonly other: Range
  /** Of the other track, + left. */
  readonly offsetMm: number
  readonly runsAlike: boolean
}

/**
 * Crossovers between two parallel straights, centres as they are measured.
 *
 * Outcome:  two turnouts and the straight from leg to leg for each. Where the tracks are not parallel, the angle; where the straights are
 *           too short or elsewhere, the nearest stations that would do; where the frogs have no room, the least centres that would.
 */
export function crossoverMake(site: Site, numbers: CrossoverNumbers): Outcome<Parts> {
  if (numbers.track === numbers.otherTrack) return fail({ kind: 'sameTrack', track: numbers.track })
  const host = site.host(numbers.track)
  if (!host.ok) return host
  const other = site.host(numbers.otherTrack)
  if (!other.ok) return other
  const shapes = shapesOf(site, numbers, host.value, other.value)
  if (!shapes.ok) return shapes

  const { first } = shapes.value
  const places = besidesOf(host.value, other.value)
  const roundMm = host.value.alignment.isClosed ? host.value.alignment.path.lengthMm : 0
  // On a loop the straight that holds station zero begins below it.
  const isHere = (place: Beside): boolean => fits(place, numbers.stationMm) || fits(place, numbers.stationMm - roundMm)
  const here = places.find(isHere)
  const rooms = places.map((place) => roomAt(place, setsAt(site, numbers, shapes.value, place)))
  if (here === undefined) {
    const { lengthMm } = host.value.alignment.path
    const isOn = numbers.stationMm >= 0 && numbers.stationMm <= lengthMm
    const leaning = isOn ? crossoverLeaning(site, numbers, host.value, other.value) : null
    // On a straight the other track may lie beside it farther on; in a curve only what bends alike can.
    const onStraight = host.value.straights.some((straight) => fits(straight, numbers.stationMm))
    if (leaning !== null && (leaning.ok || rooms.length === 0 || !onStraight)) return leaning
    return noRoom(host.value, numbers.stationMm, rooms, 0)
  }
  const stationMm = fits(here, numbers.stationMm) ? numbers.stationMm : numbers.stationMm - roundMm
  const centresMm = Math.abs(here.offsetMm)
  const figures = figuresOf(site, first, centresMm)
  // Between the heels of the two frogs there must be room for at least one tie.
  const leastStraight = first[0].heelMm + first[1].heelMm + site.railway.tieWidthMm
  const apartMm = Math.max(centresMm, crossoverCentres(site.railway.gaugeMm, first[0].frogAngleRad, leastStraight))
  const least = numbers.layout === 'scissors' ? scissorsLeast(site, numbers, [host.value, other.value], apartMm) : done(apartMm)
  if (!least.ok) return least
  if (least.value > centresMm + ROUNDING_MM) {
    return fail({ kind: 'centresTooSmall', where: 'measured', centresMm, leastMm: least.value })
  }
  const sets = setsAt(site, numbers, shapes.value, here)
  if (!fits(roomAt(here, sets), stationMm)) return noRoom(host.value, stationMm, rooms, figures.pointsToPointsMm)

  const pose = hostPose(host.value, stationMm, 'rising')
  const parts = sets.flatMap(({ hand, facing, psA, psB }, i): readonly (TurnoutPart | TrackPart)[] => {
    const foot = poseOffset(poseAhead(pose, psB), here.offsetMm)
    const turnout = { kind: 'turnout', hand, frog: numbers.frog } as const
    return [
      {
        ...turnout,
        word: String.fromCharCode(65 + 2 * i),
        host: { kind: 'plan', id: numbers.track },
        stationMm: stationOn(host.value, stationMm + psA),
        facing,
      },
      {
        ...turnout,
        word: String.fromCharCode(66 + 2 * i),
        host: { kind: 'plan', id: numbers.otherTrack },
        stationMm: pathNearest(other.value.alignment.path, foot).stationMm,
        facing: here.runsAlike ? facingOpposite(facing) : facing,
      },
      {
        kind: 'track',
        word: sets.length === 1 ? '' : String(i + 1),
        start: { kind: 'leg', turnout: 2 * i },
        corners: [],
        end: { kind: 'leg', turnout: 2 * i + 1 },
      },
    ]
  })
  return done({
    parts,
    facts: [
      { name: 'centresMm', value: centresMm },
      { name: 'frogToFrogMm', value: figures.frogToFrogMm },
      { name: 'pointsToPointsMm', value: figures.pointsToPointsMm },
      { name: 'straightBetweenMm', value: figures.straightBetweenMm },
    ],
  })
}

/** The pairs of turnouts; a single crossover has no second one. */
interface Pairs {
  readonly first: Pair
  readonly second: Pair | null
}

function shapesOf(site: Site, numbers: CrossoverNumbers, host: Host, other: Host): Outcome<Pairs> {
  const pair = (index: number): Outcome<Pair> => {
    const a = site.shape(index, host.lineClass, numbers.frog)
    if (!a.ok) return a
    const b = site.shape(index + 1, other.lineClass, numbers.frog)
    return b.ok ? done([a.value, b.value]) : b
  }
  const first = pair(0)
  if (!first.ok) return first
  if (numbers.layout === 'single') return done({ first: first.value, second: null })
  const second = pair(2)
  return second.ok ? done({ first: first.value, second: second.value }) : second
}

/** One lead stands for both turnouts: where their builds differ, their mean. */
function figuresOf({ railway }: Site, [a, b]: Pair, centresMm: number): ReturnType<typeof crossoverFigures> {
  const leadMm = (a.leadMm + b.leadMm) / 2
  return crossoverFigures({ gaugeMm: railway.gaugeMm, centresMm, frogAngleRad: a.frogAngleRad, leadMm })
}

function layoutOf({ hand, layout }: CrossoverNumbers, pointsToPointsMm: number, { first, second }: Pairs): readonly One[] {
  if (second === null) return [{ pair: first, hand, aheadMm: 0 }]
  // Behind each other: points stand back to back on the one track, with their head blocks side by side.
  const headsMm = Math.max(-first[0].fromMm - second[0].fromMm, -first[1].fromMm - second[1].fromMm)
  const apartMm = layout === 'scissors' ? 0 : pointsToPointsMm + headsMm
  return [
    { pair: first, hand, aheadMm: -apartMm / 2 },
    { pair: second, hand: handOpposite(hand), aheadMm: apartMm / 2 },
  ]
}

/** The least centres, from `centresMm` on, at which a scissors can be made; where there are none the crossing itself will tell why. */
function scissorsLeast(site: Site, { frog }: CrossoverNumbers, [host, other]: readonly [Host, Host], centresMm: number): Outcome<number> {
  const pairs: CrossoverPair[] = []
  for (const index of [0, 2]) {
    const [a, b] = [site.turnout(index, host.lineClass, frog), site.turnout(index + 1, other.lineClass, frog)]
    if (!a.ok) return a
    if (!b.ok) return b
    pairs.push([a.value, b.value])
  }
  const railway = railwayOfClass(site.railway, site.lineClass)
  return done(scissorsCentres(railway, site.lineClass.tieSpacingMm, pairs, centresMm) ?? centresMm)
}

/** One crossover as it stands at a place: points on both tracks, and what its turnouts take of them, from the maker's station. */
interface Standing {
  readonly hand: Hand
  /** Of the turnout on the host. */
  readonly facing: Facing
  readonly psA: number
  readonly psB: number
  readonly takesA: Range
  readonly takesB: Range
}

function setsAt(site: Site, numbers: CrossoverNumbers, pairs: Pairs, place: Beside): readonly Standing[] {
  const centresMm = Math.abs(place.offsetMm)
  const { pointsToPointsMm } = figuresOf(site, pairs.first, centresMm)
  return layoutOf(numbers, pointsToPointsMm, pairs).map(({ pair, hand, aheadMm }): Standing => {
    const facing: Facing = (hand === 'left') === place.offsetMm > 0 ? 'rising' : 'falling'
    const half = ((facing === 'rising' ? 1 : -1) * figuresOf(site, pair, centresMm).pointsToPointsMm) / 2
    const [psA, psB] = [aheadMm - half, aheadMm + half]
    return { hand, facing, psA, psB, takesA: takes(psA, pair[0], facing), takesB: takes(psB, pair[1], facingOpposite(facing)) }
  })
}

/** What a turnout takes of its track, from the maker's station. */
function takes(psMm: number, shape: Shape, facing: Facing): Range {
  const [before, behind] = stretchOf(shape, facing)
  return { fromMm: psMm + before, toMm: psMm + behind }
}

/** Stations at which all turnouts find their straights; the middle lies where both tracks do. */
function roomAt({ straight, other, fromMm, toMm }: Beside, sets: readonly Standing[]): Range {
  return {
    fromMm: Math.max(fromMm, ...sets.flatMap((set) => [straight.fromMm - set.takesA.fromMm, other.fromMm - set.takesB.fromMm])),
    toMm: Math.min(toMm, ...sets.flatMap((set) => [straight.toMm - set.takesA.toMm, other.toMm - set.takesB.toMm])),
  }
}

const ROUNDING_MM = 1e-6
const fits = ({ fromMm, toMm }: Range, stationMm: number): boolean => stationMm >= fromMm - ROUNDING_MM && stationMm <= toMm + ROUNDING_MM

/** Every straight of the host with every parallel straight of the other track that lies beside it. */
export function besidesOf(host: Host, other: Host): readonly Beside[] {
  return host.straights.flatMap((straight) =>
    other.straights.flatMap((beside): Beside[] => {
      const turn = angleBetween(straight.start.headingRad, beside.start.headingRad)
      const runsAlike = Math.abs(turn) < PARALLEL_RAD
      if (!runsAlike && Math.PI - Math.abs(turn) >= PARALLEL_RAD) return []
      const start = poseToLocal(straight.start, beside.start)
      const endX = start.x + (runsAlike ? 1 : -1) * (beside.toMm - beside.fromMm)
      const whole = { fromMm: straight.fromMm + Math.min(start.x, endX), toMm: straight.fromMm + Math.max(start.x, endX) }
      const fromMm = Math.max(whole.fromMm, straight.fromMm)
      const toMm = Math.min(whole.toMm, straight.toMm)
      if (toMm <= fromMm || Math.abs(start.y) < ROUNDING_MM) return []
      return [{ straight, other: whole, offsetMm: start.y, runsAlike, fromMm, toMm }]
    }),
  )
}

function noRoom(host: Host, stationMm: number, rooms: readonly Range[], needMm: number): Outcome<never> {
  const haveMm = Math.max(0, ...host.straights.map(({ fromMm, toMm }) => toMm - fromMm))
  const nearestMm = nearestIn(
    rooms.filter(({ fromMm, toMm }) => fromMm <= toMm),
    stationMm,
  )
  return fail({
    kind: 'station',
    where: 'stationMm',
    track: host.id,
    stationMm,
    nearestMm: nearestMm.map((station) => stationOn(host, station)),
    needMm,
    haveMm,
  })
}
