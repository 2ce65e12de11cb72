import { pathPoseAt, poseReverse, poseToPlan, rootBrent } from '../geom/index.ts'
import type { Point, Pose } from '../geom/types.ts'
import { recordFind } from '../plan/index.ts'
import type { LoopNumbers, TrackEndName } from '../plan/types.ts'
import { cornerOfClass, easementsOf, radiusOf } from './curves.ts'
import type { EasedEnds } from './curves.ts'
import type { Shape } from './shape.ts'
import { done, fail, signOf } from './site.ts'
import type { Host, Site } from './site.ts'
import type { Outcome, PartCorner, Parts } from './types.ts'

/** Corners into which the great turn of a loop is cut: each then turns about 75 deg. */
const cuts = 4

const bothEased: EasedEnds = { isIn: true, isOut: true }
const easedIn: EasedEnds = { isIn: true, isOut: false }
const easedOut: EasedEnds = { isIn: false, isOut: true }
const bare: EasedEnds = { isIn: false, isOut: false }

/** A corner on the way round: where it lies in the frame of the end, and which easements it has. */
interface Bend {
  readonly at: Point
  readonly eased: EasedEnds
}

interface Solved {
  readonly upper: readonly Bend[]
  readonly lower: readonly Bend[]
  /** Where the two halves meet, farthest out. */
  readonly meet: Point
  /** From the host's end to the points, and to where the lower way begins to curve. */
  readonly psX: number
  readonly throatX: number
  readonly farthestMm: number
}

/** Where a free end of a track lies, looking out; null: it is no free end. */
export function freeEnd(site: Site, host: Host, end: TrackEndName): Pose | null {
  const track = recordFind(site.plan, 'tracks', host.id)
  const place = end === 'start' ? track?.start : track?.end
  if (place?.kind !== 'free') return null
  const { path } = host.alignment
  const { x, y, headingRad } = pathPoseAt(path, end === 'start' ? 0 : path.lengthMm)
  return end === 'end' ? { x, y, headingRad } : poseReverse({ x, y, headingRad })
}

/**
 * A reversing loop behind the free end of a track.
 *
 *   The track goes on into the points; their straight way turns by A to the far side, their leg by A - F more to its own, and both meet in one
 *   turn of 180 deg + 2 A about a centre between them. With all radii R and a straight t between the reverse curves, heights add up to
 *     legY + e sin F + [rise of the upper way from F to A] + [drop of the lower way from 0 to A] - [rise of the turn] = 0,
 *   which for plain arcs is legY + e sin F + R cos F + R - 4 R cos A + 2 t sin A: it grows with A and has one root, found with the easements
 *   in it. e is the straight behind the leg that keeps the lower curve off the turnout's long ties.
 *
 * Outcome:  two tracks that meet end to end at the far side of the loop, and the turnout on the first of them.
 */
export function loopMake(site: Site, numbers: LoopNumbers): Outcome<Parts> {
  const opened = site.host(numbers.track)
  if (!opened.ok) return opened
  const end = freeEnd(site, opened.value, numbers.end)
  if (end === null) return fail({ kind: 'endNotFree', track: numbers.track, end: numbers.end })
  const shape = site.shape(0, site.lineClass, numbers.frog)
  if (!shape.ok) return shape
  const radiusMm = radiusOf(numbers.radius, site.lineClass)
  const solved = loopSolve(site, numbers, shape.value, radiusMm)
  if (!solved.ok) return solved
  const { upper, lower, meet, psX, throatX, farthestMm } = solved.value
  const sign = signOf(numbers.hand)
  const at = ({ x, y }: Point): Point => poseToPlan(end, { x, y: sign * y })
  const corners = (bends: readonly Bend[]): readonly PartCorner[] =>
    bends.map((bend) => ({ ...at(bend.at), radius: numbers.radius, ...easementsOf(bend.eased) }))
  return done({
    parts: [
      {
        kind: 'track',
        word: 'lead',
        start: { kind: 'free', x: end.x, y: end.y },
        corners: corners(lower),
        end: { kind: 'free', ...at(meet) },
      },
      {
        kind: 'turnout',
        word: '',
        host: { kind: 'made', track: 0 },
        stationMm: psX,
        facing: 'rising',
        hand: numbers.hand,
        frog: numbers.frog,
      },
      { kind: 'track', word: 'return', start: { kind: 'leg', turnout: 0 }, corners: corners(upper), end: { kind: 'free', ...at(meet) } },
    ],
    facts: [
      { name: 'radiusMm', value: radiusMm },
      { name: 'throatMm', value: throatX },
      { name: 'reachMm', value: farthestMm },
    ],
  })
}

/** One step of the way round: straight on by a length, in a direction. */
interface Side {
  readonly lengthMm: number
  readonly headingRad: number
}

/** The whole way from the leg round to the lower curve's start, for one angle A; sides between PIs, in order. */
function wayRound(site: Site, numbers: LoopNumbers, shape: Shape, radiusMm: number, angleRad: number): Outcome<readonly Side[]> {
  const { lineClass } = site
  const f = shape.frogAngleRad
  const cutRad = (Math.PI + 2 * angleRad) / cuts
  const out = cornerOfClass(lineClass, radiusMm, angleRad - f, bothEased)
  if (!out.ok) return out
  const first = cornerOfClass(lineClass, radiusMm, cutRad, easedIn)
  if (!first.ok) return first
  const middle = cornerOfClass(lineClass, radiusMm, cutRad, bare)
  if (!middle.ok) return middle
  const last = cornerOfClass(lineClass, radiusMm, cutRad, easedOut)
  if (!last.ok) return last
  const back = cornerOfClass(lineClass, radiusMm, angleRad, bothEased)
  if (!back.ok) return back
  const t = numbers.straightMm
  return done([
    { lengthMm: out.value.tangentInMm, headingRad: f },
    { lengthMm: out.value.tangentOutMm + t + first.value.tangentInMm, headingRad: angleRad },
    { lengthMm: first.value.tangentOutMm + middle.value.tangentInMm, headingRad: angleRad - cutRad },
    { lengthMm: middle.value.tangentOutMm, headingRad: angleRad - 2 * cutRad },
    { lengthMm: middle.value.tangentInMm, headingRad: angleRad - 2 * cutRad },
    { lengthMm: middle.value.tangentOutMm + last.value.tangentInMm, headingRad: angleRad - 3 * cutRad },
    { lengthMm: last.value.tangentOutMm + t + back.value.tangentInMm, headingRad: -Math.PI - angleRad },
    { lengthMm: back.value.tangentOutMm, headingRad: -Math.PI },
  ])
}

function sum(sides: readonly Side[]): Point {
  let [x, y] = [0, 0]
  for (const { lengthMm, headingRad } of sides) {
    x += lengthMm * Math.cos(headingRad)
    y += lengthMm * Math.sin(headingRad)
  }
  return { x, y }
}

/** A lies between a little more than the frog angle and somewhat under a right angle. */
const leastTurnRad = 0.02
const mostAngleRad = 1.5

function loopSolve(site: Site, numbers: LoopNumbers, shape: Shape, radiusMm: number): Outcome<Solved> {
  const f = shape.frogAngleRad
  const psX = -shape.fromMm
  /** Straight behind the leg, so that the lower curve begins no sooner than the long ties end. */
  const extraMm = (round: Point): number => Math.max(0, (shape.toMm - shape.legX - round.x) / Math.cos(f))
  const height = (angleRad: number): number => {
    const way = wayRound(site, numbers, shape, radiusMm, angleRad)
    if (!way.ok) return Number.NaN
    const round = sum(way.value)
    return shape.legY + round.y + extraMm(round) * Math.sin(f)
  }
  // Easements need some turn to lie in: the least angle at which they fit.
  const least = leastAngle(site, numbers, shape, radiusMm)
  if (!least.ok) return least
  const root = rootBrent(height, least.value, mostAngleRad, 1e-14)
  if (!root.ok) return fail({ kind: 'noLoop', radiusMm })
  const way = wayRound(site, numbers, shape, radiusMm, root.x)
  if (!way.ok) return way
  const extra = extraMm(sum(way.value))

  const points: Point[] = []
  let at: Point = { x: psX + shape.legX + extra * Math.cos(f), y: shape.legY + extra * Math.sin(f) }
  for (const { lengthMm, headingRad } of way.value) {
    at = { x: at.x + lengthMm * Math.cos(headingRad), y: at.y + lengthMm * Math.sin(headingRad) }
    points.push(at)
  }
  const [p1, p2, p3, meet, p4, p5, p6, throat] = points
  if (!p1 || !p2 || !p3 || !meet || !p4 || !p5 || !p6 || !throat) return fail({ kind: 'noLoop', radiusMm })
  return done({
    upper: [
      { at: p1, eased: bothEased },
      { at: p2, eased: easedIn },
      { at: p3, eased: bare },
    ],
    lower: [
      { at: p6, eased: bothEased },
      { at: p5, eased: easedIn },
      { at: p4, eased: bare },
    ],
    meet,
    psX,
    throatX: throat.x,
    farthestMm: Math.max(...points.map(({ x }) => x)),
  })
}

/** The least angle A at which the curve behind the leg has room for its easements. */
function leastAngle(site: Site, numbers: LoopNumbers, shape: Shape, radiusMm: number): Outcome<number> {
  let low = shape.frogAngleRad + leastTurnRad
  const first = wayRound(site, numbers, shape, radiusMm, low)
  if (first.ok) return done(low)
  const most = wayRound(site, numbers, shape, radiusMm, mostAngleRad)
  if (!most.ok) return most
  let high = mostAngleRad
  for (let i = 0; i < 50; i++) {
    const middle = (low + high) / 2
    if (wayRound(site, numbers, shape, radiusMm, middle).ok) high = middle
    else low = middle
  }
  return done(high)
}
