import { pointDistance, poseOffset } from '../../geom/index.ts'
import type { Point, Pose } from '../../geom/types.ts'
import type { TurnoutTie } from '../types.ts'
import { hostPose, pathAcross } from './across.ts'
import type { Across } from './across.ts'
import type { HeadBlocks, TieRequest } from './types.ts'
import { MM_PER_INCH } from '../../units/index.ts'

/** Turnout ties come in steps of 6 in full size. Common practice, no source. */
const stepInches = 6
/** The two ties that carry the throw reach this much farther than a standard tie: 15 ft beside 8 ft 6 in. [AREA-TURNOUTS] */
const headBlockExtraInches = 78
/** A route that stands less than this part of a tie from the host keeps beside it: no gauge within another makes more. */
const nearPart = 0.4
/** A length this part of a step over a step counts as that step: rounding, not wood. */
const stepSlack = 1e-9
/** Ties that stand near to each other: 17 in for 20, full size. Common practice, no source. */
const closePart = 0.85
/** A gap has at least this part of the clear bay between itself and a tie, so that both rail ends can be held. Common practice, no source. */
export const gapClearPart = 0.25
/** A route this near to the host's line lies on it: rounding. */
const onHostMm = 1e-6
/** The bisector is found by going back and forth between tie and routes; every round halves what it is off, and more. */
const bisectRounds = 30
const bisectEnoughRad = 1e-14
/** Tracks that part so slowly that one set of ties would not end: no turnout has as many on either side. */
const mostTies = 4000

/** How far the centrelines reach to both sides of the host on a tie's middle line. */
interface Spread {
  readonly lowMm: number
  readonly highMm: number
}

/**
 * The ties of a turnout or crossing, in the order of their stations along the host.
 *
 * The first is centred on station 0, the others one spacing apart along the host, nearer where asked. Length: a standard
 * tie and the separation of the outermost centrelines there, taken up to the next 6 in full size. Where the host's own
 * track is the outermost its ends lie in line with those of plain track, and the rest reaches to the other side; else it is
 * shared. The last is the last where a route is no farther from the host than a standard tie: behind it each track has ties of its own.
 *
 * Units:      mm on the model.
 * Exactness:  as pathAcross.
 * Outcome:    at least the pair of every throw. Never throws for finite input.
 */
export function tiesLay(request: TieRequest): TurnoutTie[] {
  const after = stationsWay(request, 1)
  const stations = request.reach === 'on' ? after : [...stationsWay(request, -1).slice(1).toReversed(), ...after]
  const pairs = request.heads.map((head) => ({ head, pair: throwBay(stations, request.tieSpacingMm, head) }))
  return stations.map((stationMm, index) => {
    const head = pairs.find(({ pair }) => index === pair || index === pair + 1)?.head
    const tie = tieAt(request, stationMm, head)
    return head === undefined ? tieClear(request, tie) : tie
  })
}

/** A tie that would lie under a gap moved along the host until it is clear of it, the shorter way. */
function tieClear(request: TieRequest, tie: TurnoutTie): TurnoutTie {
  const { gaps = [], tieSpacingMm, tieWidthMm } = request
  const clear = gapClearPart * (tieSpacingMm - tieWidthMm)
  const under = gaps.filter(({ at }) => tieDistance(tie, at) < clear)
  if (under.length === 0) return tie
  const { headingRad } = spreadAt(request, tie.stationMm).pose
  const ahead = under.map(({ at }) => (at.x - tie.from.x) * Math.cos(headingRad) + (at.y - tie.from.y) * Math.sin(headingRad))
  const room = tieWidthMm / 2 + clear
  const [back, on] = [Math.min(...ahead) - room, Math.max(...ahead) + room]
  return tieAt(request, tie.stationMm + (-back <= on ? back : on), undefined)
}

/** Index of the tie ahead of the bay, of those stations, in which the throw bar of the points lies: half a spacing behind their tip. */
function throwBay(stations: readonly number[], spacingMm: number, { stationMm, ahead }: HeadBlocks): number {
  const bar = stationMm + (ahead * spacingMm) / 2
  let best = 0
  let least = Infinity
  for (const [i, from] of stations.entries()) {
    const to = stations[i + 1]
    const off = to === undefined ? Infinity : Math.abs((from + to) / 2 - bar)
    if (off < least) [best, least] = [i, off]
  }
  return best
}

/** Stations one way from 0, as long as the separation does not exceed a tie. */
function stationsWay(request: TieRequest, way: 1 | -1): number[] {
  const { tieSpacingMm, heads, close } = request
  const isHead = (at: number): boolean => heads.some(({ stationMm }) => Math.abs(at - stationMm) < tieSpacingMm)
  const isClose = (at: number): boolean => !isHead(at) && close.some(({ fromMm, toMm }) => at >= fromMm && at < toMm)
  const isEven = close.length === 0
  const stations = [0]
  let behind = 0
  while (stations.length < mostTies) {
    // Multiples, not sums: what is told as one spacing on is one spacing on.
    const next = isEven ? way * stations.length * tieSpacingMm : behind + way * tieSpacingMm * (isClose(behind) ? closePart : 1)
    const { spread } = spreadAt(request, next)
    const isThrow = way > 0 && stations.length < 2 && heads.length > 0
    if (haveParted(request, spread) && !isThrow) break
    stations.push(next)
    behind = next
  }
  return stations
}

/**
 * Whether every track has ties of its own: the routes stand more than a tie apart. Beside a host that goes on they may part from it
 * on both sides, and the later one counts; one that keeps near it all along, as of a second gauge, does not.
 */
function haveParted({ hasHostTrack, tieLengthMm }: TieRequest, { lowMm, highMm }: Spread): boolean {
  const tie = tieLengthMm * (1 + stepSlack)
  if (!hasHostTrack) return highMm - lowMm > tie
  const sides = [highMm, -lowMm].filter((side) => side > nearPart * tieLengthMm)
  return sides.length === 0 ? false : highMm - lowMm > tie && sides.every((side) => side > tie)
}

/** The pose that a tie stands square to, and the spread there. */
function spreadAt(request: TieRequest, stationMm: number): { readonly pose: Pose; readonly spread: Spread } {
  const host = hostPose(request.host, stationMm)
  const found = (pose: Pose): readonly Across[] => [
    ...(request.hasHostTrack ? [{ offsetMm: 0, headingRad: host.headingRad, stationMm }] : []),
    ...request.routes.flatMap(({ centre }) => pathAcross(centre, pose) ?? []),
  ]
  let pose = request.lay === 'fanned' ? { ...host, headingRad: host.headingRad + (request.fanRad ?? 0) } : host
  if (request.lay === 'fanned') {
    for (let round = 0; round < bisectRounds; round++) {
      const all = found(pose).toSorted((a, b) => a.offsetMm - b.offsetMm)
      const [low, high] = [all[0], all.at(-1)]
      const headingRad = low && high ? (low.headingRad + high.headingRad) / 2 : host.headingRad
      const change = Math.abs(headingRad - pose.headingRad)
      pose = { ...host, headingRad }
      if (change < bisectEnoughRad) break
    }
  }
  const offsets = found(pose)
    .map(({ offsetMm }) => offsetMm)
    .toSorted((a, b) => a - b)
  // No route there: a tie of plain track.
  return { pose, spread: { lowMm: offsets[0] ?? 0, highMm: offsets.at(-1) ?? 0 } }
}

function tieAt(request: TieRequest, stationMm: number, head: HeadBlocks | undefined): TurnoutTie {
  const { tieLengthMm, tieWidthMm, ratio } = request
  const step = (stepInches * MM_PER_INCH) / ratio
  const { pose, spread } = spreadAt(request, stationMm)
  const separation = spread.highMm - spread.lowMm
  const extra = head === undefined ? separation : Math.max(separation, (headBlockExtraInches * MM_PER_INCH) / ratio)
  const lengthMm = Math.ceil((tieLengthMm + extra) / step - stepSlack) * step
  const over = lengthMm - tieLengthMm - separation
  const low = spread.lowMm - tieLengthMm / 2 - over * shareBelow(request, spread, head)
  return {
    stationMm,
    from: pointAt(pose, low),
    to: pointAt(pose, low + lengthMm),
    lengthMm,
    widthMm: tieWidthMm,
    isHeadBlock: head !== undefined,
  }
}

/** Which part of what a tie is longer than it need be lies on its right: none on the side of the host's own outer edge. */
function shareBelow({ hasHostTrack }: TieRequest, { lowMm, highMm }: Spread, head: HeadBlocks | undefined): number {
  if (head !== undefined) return head.side === 1 ? 0 : 1
  const isLowest = hasHostTrack && lowMm >= -onHostMm
  const isHighest = hasHostTrack && highMm <= onHostMm
  if (isLowest === isHighest) return isLowest ? 0 : 0.5
  return isLowest ? 0 : 1
}

function pointAt(pose: Pose, offsetMm: number): Point {
  const { x, y } = poseOffset(pose, offsetMm)
  return { x, y }
}

/** Where the throw bar of a turnout lies: in the middle of the bay between its head blocks, on the host. */
export function throwBarStation(ties: readonly TurnoutTie[], head: HeadBlocks, tieSpacingMm: number): number {
  const stations = ties.map(({ stationMm }) => stationMm)
  const bay = throwBay(stations, tieSpacingMm, head)
  const [from, to] = [stations[bay], stations[bay + 1]]
  return from === undefined || to === undefined ? head.stationMm + (head.ahead * tieSpacingMm) / 2 : (from + to) / 2
}

/** Least distance of a point from a tie's edges, mm; negative inside it. */
export function tieDistance(tie: Pick<TurnoutTie, 'from' | 'to' | 'widthMm'>, p: Point): number {
  const { from, to, widthMm } = tie
  const length = pointDistance(from, to)
  const [ux, uy] = [(to.x - from.x) / length, (to.y - from.y) / length]
  const along = (p.x - from.x) * ux + (p.y - from.y) * uy
  const off = Math.abs((p.y - from.y) * ux - (p.x - from.x) * uy) - widthMm / 2
  const beyond = Math.max(-along, along - length)
  return off > 0 && beyond > 0 ? Math.hypot(off, beyond) : Math.max(off, beyond)
}
