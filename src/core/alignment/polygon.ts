import { angleWrap, poseAhead, posesMeet, poseToLocal } from '../geom/index.ts'
import type { Point, Pose } from '../geom/types.ts'
import type { AlignmentProblem, Traverse } from './types.ts'

/** A side of the traverse polygon: side i runs from corner i-1 (or the start) to corner i (or the end). */
export interface Side {
  readonly from: Point
  readonly to: Point
  /** Runs on from side to side by the deflections, without jumps of a whole turn. */
  readonly headingRad: number
  readonly lengthMm: number
  /** False where the side has no direction or runs the wrong way: nothing beside it can be solved. */
  readonly isGood: boolean
}

/** The polygon that the curves are fitted into. Between sides i and i+1 (closed: cyclic) the line turns at corner i. */
export interface TraversePolygon {
  readonly isClosed: boolean
  /** PIs as used: projected on a leg's tangent where a leg asks for it. */
  readonly pis: readonly Point[]
  readonly sides: readonly Side[]
  /** Turn at each corner, + left. */
  readonly deflections: readonly number[]
  /** Open: start, PIs, end. Closed: PIs and the first again. */
  readonly points: readonly Point[]
  readonly problems: readonly AlignmentProblem[]
}

/** Points nearer than this are one point: a thousandth of what the finest pencil shows. */
const COINCIDENT_MM = 1e-6

/** Two legs face each other in line when they agree within this. The heading one is that at which a PI is straight. */
const IN_LINE_MM = 1e-6
const IN_LINE_RAD = 1e-9

const directionOf = (from: Point, to: Point): number => Math.atan2(to.y - from.y, to.x - from.x)

/** Foot of a point on the line of a pose. */
const projected = (pose: Pose, point: Point): Point => {
  const foot = poseAhead(pose, poseToLocal(pose, point).x)
  return { x: foot.x, y: foot.y }
}

/** A point with the heading that a leg forces on the side there; null: the side takes the direction of its points. */
interface End {
  readonly at: Point
  readonly leg: Pose | null
}

/**
 * Sides, deflections and PIs of a traverse, before any curve is fitted.
 *
 * Units:      mm, rad.
 * Domain:     finite numbers (see traverseSolve).
 * Exactness:  exact up to rounding. A side at a leg has the leg's heading to the last digit.
 * Outcome:    always a polygon, with the problems found in it.
 * Throws:     never.
 */
export function traversePolygon(traverse: Traverse): TraversePolygon {
  return traverse.end.kind === 'closed' ? closedPolygon(traverse) : openPolygon(traverse, traverse.end)
}

function closedPolygon(traverse: Traverse): TraversePolygon {
  const pis = traverse.corners.map(({ x, y }) => ({ x, y }))
  const points = [...pis, ...pis.slice(0, 1)]
  const problems: AlignmentProblem[] = []
  if (traverse.start.kind === 'leg') problems.push({ kind: 'closedFromLeg', turnout: traverse.start.turnout })
  if (pis.length < 3) problems.push({ kind: 'tooFewCorners', have: pis.length, need: 3 })
  if (problems.length > 0) return { isClosed: true, pis, sides: [], deflections: [], points, problems }
  const spans = pis.map((to, i) => ({ from: pis.at(i - 1) ?? to, to, forcedRad: null }))
  return { isClosed: true, pis, points, ...sidesMeasured(spans, true) }
}

function openPolygon(traverse: Traverse, trackEnd: Exclude<Traverse['end'], { kind: 'closed' }>): TraversePolygon {
  const start: End =
    traverse.start.kind === 'leg' ? { at: traverse.start.pose, leg: traverse.start.pose } : { at: traverse.start.at, leg: null }
  const end: End = trackEnd.kind === 'leg' ? { at: trackEnd.pose, leg: trackEnd.pose } : { at: trackEnd.at, leg: null }
  const fitted = cornersOnLegs(
    traverse.corners.map(({ x, y }) => ({ x, y })),
    start,
    end,
  )
  const points = [fitted.start, ...fitted.pis, fitted.end]
  const last = points.length - 2
  const spans = points.slice(1).map((to, i) => ({
    from: points[i] ?? to,
    to,
    forcedRad: i === 0 && start.leg !== null ? start.leg.headingRad : i === last && end.leg !== null ? end.leg.headingRad + Math.PI : null,
  }))
  const measured = sidesMeasured(spans, false)
  // A forced side of negative length has its PI on the wrong side of the leg.
  const problems: AlignmentProblem[] = [...fitted.problems, ...measured.problems]
  const first = measured.sides[0]
  const final = measured.sides[last]
  if (start.leg !== null && first !== undefined && first.lengthMm < -COINCIDENT_MM)
    problems.push({ kind: 'behindLeg', end: 'start', at: first.to })
  if (end.leg !== null && final !== undefined && final.lengthMm < -COINCIDENT_MM && !(last === 0 && start.leg !== null)) {
    problems.push({ kind: 'behindLeg', end: 'end', at: final.from })
  }
  return { isClosed: false, pis: fitted.pis, points, sides: measured.sides, deflections: measured.deflections, problems }
}

interface Fitted {
  readonly start: Point
  readonly pis: readonly Point[]
  readonly end: Point
  readonly problems: readonly AlignmentProblem[]
}

/** Slides the first and last PI (without corners: the free end) on to the tangents of the legs. */
function cornersOnLegs(corners: readonly Point[], start: End, end: End): Fitted {
  const startAt: Point = { x: start.at.x, y: start.at.y }
  const endAt: Point = { x: end.at.x, y: end.at.y }
  if (start.leg === null && end.leg === null) return { start: startAt, pis: corners, end: endAt, problems: [] }

  if (corners.length === 0) {
    if (start.leg !== null && end.leg !== null) return { start: startAt, pis: [], end: endAt, problems: legsInLine(start.leg, end.leg) }
    return {
      start: end.leg === null ? startAt : projected(end.leg, startAt),
      pis: [],
      end: start.leg === null ? endAt : projected(start.leg, endAt),
      problems: [],
    }
  }
  if (corners.length === 1 && start.leg !== null && end.leg !== null) {
    const meet = posesMeet(start.leg, end.leg)
    if (meet !== null) return { start: startAt, pis: [meet], end: endAt, problems: [] }
    const pis = corners.map((corner) => (start.leg === null ? corner : projected(start.leg, corner)))
    return { start: startAt, pis, end: endAt, problems: legsInLine(start.leg, end.leg) }
  }
  const pis = corners.map((corner, i) => {
    if (i === 0 && start.leg !== null) return projected(start.leg, corner)
    if (i === corners.length - 1 && end.leg !== null) return projected(end.leg, corner)
    return corner
  })
  return { start: startAt, pis, end: endAt, problems: [] }
}

/** Nothing when the second leg faces the first one in line; else by how much it misses. */
function legsInLine(start: Pose, end: Pose): readonly AlignmentProblem[] {
  const offsetMm = poseToLocal(start, end).y
  const headingRad = angleWrap(end.headingRad + Math.PI - start.headingRad)
  if (Math.abs(offsetMm) <= IN_LINE_MM && Math.abs(headingRad) <= IN_LINE_RAD) return []
  return [{ kind: 'legsNotInLine', offsetMm, headingRad }]
}

interface Span {
  readonly from: Point
  readonly to: Point
  readonly forcedRad: number | null
}

function sidesMeasured(
  spans: readonly Span[],
  isClosed: boolean,
): { readonly sides: readonly Side[]; readonly deflections: readonly number[]; readonly problems: readonly AlignmentProblem[] } {
  const problems: AlignmentProblem[] = []
  const sides: Side[] = []
  const deflections: number[] = []
  for (const [side, { from, to, forcedRad }] of spans.entries()) {
    const direction = forcedRad ?? directionOf(from, to)
    const before = sides.at(-1)
    const turn = before === undefined ? 0 : angleWrap(direction - before.headingRad)
    if (before !== undefined) deflections.push(turn)
    const lengthMm = forcedRad === null ? Math.hypot(to.x - from.x, to.y - from.y) : poseToLocal({ ...from, headingRad: forcedRad }, to).x
    if (Math.abs(lengthMm) <= COINCIDENT_MM) problems.push({ kind: 'coincidentPoints', side, at: to })
    sides.push({
      from,
      to,
      headingRad: before === undefined ? direction : before.headingRad + turn,
      lengthMm,
      isGood: lengthMm > COINCIDENT_MM,
    })
  }
  const first = sides[0]
  const last = sides.at(-1)
  if (isClosed && first !== undefined && last !== undefined) deflections.push(angleWrap(first.headingRad - last.headingRad))
  return { sides, deflections, problems }
}
