import type { Alignment } from '../alignment/types.ts'
import { pathPoseAt, poseReverse } from '../geom/index.ts'
import type { Pose } from '../geom/types.ts'
import type { Network, NetworkTrack } from '../network/types.ts'
import { railwayOfClass, recordFind } from '../plan/index.ts'
import type { Facing, Hand, Id, LineClass, Maker, Plan, Railway, TurnoutBuild } from '../plan/types.ts'
import { turnoutRequest, turnoutSolveKept } from '../turnout/index.ts'
import type { TurnoutGeometry } from '../turnout/index.ts'
import { shapeOf } from './shape.ts'
import type { Shape } from './shape.ts'
import type { MakerProblem, Outcome } from './types.ts'

type Solved = Extract<Alignment, { readonly ok: true }>

/** A stretch of zero curvature. On a closed track the one that holds station zero begins below 0. */
export interface Straight {
  readonly fromMm: number
  readonly toMm: number
  /** At `fromMm`, along rising station. */
  readonly start: Pose
}

/** A track that a maker stands on. */
export interface Host {
  readonly id: Id
  readonly alignment: Solved
  readonly lineClass: LineClass
  readonly straights: readonly Straight[]
  readonly networkTrack: NetworkTrack
}

/** Where a maker works: the plan, what is solved of it, and the maker's own class. */
export interface Site {
  readonly plan: Plan
  readonly railway: Railway
  readonly lineClass: LineClass
  host(id: Id): Outcome<Host>
  /**
   * The turnout that is to be the maker's index-th, on a host of this class. Where it has been made before it keeps the build that the
   * builder gave it.
   */
  shape(index: number, hostClass: LineClass, frog: number): Outcome<Shape>
  /** The same turnout itself, left-hand. */
  turnout(index: number, hostClass: LineClass, frog: number): Outcome<TurnoutGeometry>
  /** How the maker's index-th turnout is built. */
  build(index: number): TurnoutBuild
}

export const standardBuild: TurnoutBuild = {
  points: 'straight',
  pointLengthMm: 'standard',
  pointThicknessMm: 'standard',
  heelSpreadMm: 'standard',
  toeLengthMm: 'standard',
  heelLengthMm: 'standard',
}

export const done = <T>(value: T): Outcome<T> => ({ ok: true, value })
export const fail = (problem: MakerProblem): { readonly ok: false; readonly problem: MakerProblem } => ({ ok: false, problem })

export function siteOpen(plan: Plan, network: Network, maker: Maker): Outcome<Site> {
  const lineClass = recordFind(plan, 'lineClasses', maker.lineClass)
  if (lineClass === null) return fail({ kind: 'classMissing', lineClass: maker.lineClass })
  const build = (index: number): TurnoutBuild => {
    const id = maker.made.turnouts[index]
    return (id === undefined ? null : recordFind(plan, 'turnouts', id)?.build) ?? standardBuild
  }
  const turnout = (index: number, hostClass: LineClass, frog: number): Outcome<TurnoutGeometry> => {
    const solved = turnoutSolveKept(
      turnoutRequest(railwayOfClass(plan.railway, hostClass), hostClass, { hand: 'left', frog, build: build(index) }),
    )
    return solved.ok ? done(solved.turnout) : fail({ kind: 'turnout', frog, problem: solved.problem })
  }
  return done({
    plan,
    railway: plan.railway,
    lineClass,
    host(id) {
      const networkTrack = network.tracks.get(id)
      if (networkTrack === undefined) return fail({ kind: 'hostMissing', track: id })
      const { alignment } = networkTrack
      if (!alignment.ok) return fail({ kind: 'hostUnsolved', track: id })
      return done({ id, alignment, lineClass: networkTrack.lineClass, straights: straightsOf(alignment), networkTrack })
    },
    shape(index, hostClass, frog) {
      const solved = turnout(index, hostClass, frog)
      return solved.ok ? done(shapeOf(solved.value)) : solved
    },
    turnout,
    build,
  })
}

function straightsOf({ path, isClosed }: Solved): readonly Straight[] {
  const straights = path.elements
    .filter(({ k0, k1 }) => k0 === 0 && k1 === 0)
    .map(({ startStationMm, lengthMm, start }): Straight => ({ fromMm: startStationMm, toMm: startStationMm + lengthMm, start }))
  const first = straights[0]
  const last = straights.at(-1)
  if (!isClosed || first === undefined || last === undefined || first === last) return straights
  if (first.fromMm > 0 || last.toMm < path.lengthMm) return straights
  return [{ fromMm: last.fromMm - path.lengthMm, toMm: first.toMm, start: last.start }, ...straights.slice(1, -1)]
}

/** Stations of a closed track count from 0 to its length. */
export function stationOn({ alignment }: Host, stationMm: number): number {
  const { lengthMm } = alignment.path
  if (!alignment.isClosed || (stationMm >= 0 && stationMm <= lengthMm)) return stationMm
  return stationMm - lengthMm * Math.floor(stationMm / lengthMm)
}

/** Pose on a host at a station that is known to lie on it, looking the way the points of a turnout there face. */
export function hostPose(host: Host, stationMm: number, facing: Facing): Pose {
  const { x, y, headingRad } = pathPoseAt(host.alignment.path, stationOn(host, stationMm))
  return facing === 'rising' ? { x, y, headingRad } : poseReverse({ x, y, headingRad })
}

export const handOpposite = (hand: Hand): Hand => (hand === 'left' ? 'right' : 'left')
export const facingOpposite = (facing: Facing): Facing => (facing === 'rising' ? 'falling' : 'rising')

/** Hand of a turnout that diverges to this side of the track, seen along rising station. */
export const handOf = (side: Hand, facing: Facing): Hand => (facing === 'rising' ? side : handOpposite(side))

/** +1 to the left, -1 to the right. */
export const signOf = (side: Hand): 1 | -1 => (side === 'left' ? 1 : -1)

/** Stations that would do, as ranges; what is asked lies in none of them. */
export interface Range {
  readonly fromMm: number
  readonly toMm: number
}

/** A turnout that ends this much outside a straight still lies on it, mm: rounding of stations. */
const slackMm = 1e-6

/** Stations offered to the builder are given to a tenth of a millimetre, on the side that fits. */
const offerStepMm = 0.1

/** Of each range the station nearest to what was asked; at most two, the nearer first. */
export function nearestIn(ranges: readonly Range[], askedMm: number): readonly number[] {
  const offers = ranges.flatMap(({ fromMm, toMm }): number[] => {
    const from = Math.ceil(fromMm / offerStepMm) * offerStepMm
    const to = Math.floor(toMm / offerStepMm) * offerStepMm
    if (from > to) return fromMm <= toMm ? [(fromMm + toMm) / 2] : []
    return [Number((askedMm < from ? from : askedMm > to ? to : askedMm).toFixed(4))]
  })
  return [...new Set(offers)].toSorted((a, b) => Math.abs(a - askedMm) - Math.abs(b - askedMm)).slice(0, 2)
}

/**
 * The straight of a host that holds all from `beforeMm` (negative) to `behindMm` about a station; else the nearest stations that would do,
 * or how much straight there is.
 */
export function straightAbout(
  host: Host,
  where: 'stationMm' | 'fromMm' | 'toMm',
  stationMm: number,
  beforeMm: number,
  behindMm: number,
): Outcome<Straight> {
  const { lengthMm } = host.alignment.path
  const shifts = host.alignment.isClosed ? [0, -lengthMm, lengthMm] : [0]
  for (const straight of host.straights) {
    const fits = shifts.some(
      (shift) => stationMm + shift + beforeMm >= straight.fromMm - slackMm && stationMm + shift + behindMm <= straight.toMm + slackMm,
    )
    if (fits) return done(straight)
  }
  const ranges = host.straights
    .map(({ fromMm, toMm }) => ({ fromMm: fromMm - beforeMm, toMm: toMm - behindMm }))
    .filter(({ fromMm, toMm }) => fromMm <= toMm)
  const haveMm = Math.max(0, ...host.straights.map(({ fromMm, toMm }) => toMm - fromMm))
  return fail({
    kind: 'station',
    where,
    track: host.id,
    stationMm,
    nearestMm: nearestIn(ranges, stationMm).map((station) => stationOn(host, station)),
    needMm: behindMm - beforeMm,
    haveMm,
  })
}

/** The stretch that a turnout of this shape takes about its station. */
export function stretchOf(shape: Shape, facing: Facing): readonly [beforeMm: number, behindMm: number] {
  return facing === 'rising' ? [shape.fromMm, shape.toMm] : [-shape.toMm, -shape.fromMm]
}

/** The first number of a maker that is not finite. */
export function numbersFinite(value: unknown, where = ''): MakerProblem | null {
  if (typeof value === 'number') {
    return Number.isFinite(value) ? null : { kind: 'badNumber', where, value, expected: 'a finite number' }
  }
  if (typeof value !== 'object' || value === null) return null
  for (const [key, item] of Object.entries(value)) {
    const problem = numbersFinite(item, where === '' ? key : `${where}.${key}`)
    if (problem !== null) return problem
  }
  return null
}
