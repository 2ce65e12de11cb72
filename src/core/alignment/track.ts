import type { Point, Pose } from '../geom/types.ts'
import type { ByClass, Corner, Id, LineClass, Track, TurnoutLeg } from '../plan/types.ts'
import { STRAIGHT_RAD } from './corner.ts'
import { easementBetween, easementByRule } from './easement.ts'
import type { EasementResult } from './easement.ts'
import { traversePolygon } from './polygon.ts'
import { traverseNotFinite, traverseSolve } from './traverse.ts'
import type { Alignment, AlignmentProblem, Traverse, TraverseCorner } from './types.ts'

/** Pose of a turnout's leg, leaving the turnout; null as long as the turnout is not solved. */
export type LegPoseOf = (turnout: Id, leg: TurnoutLeg) => Pose | null

export type TrackTraverseResult =
  | { readonly ok: true; readonly traverse: Traverse }
  | { readonly ok: false; readonly problems: readonly AlignmentProblem[]; readonly polygon: readonly Point[] }

/**
 * A track with all that it leaves to its line class filled in.
 *
 * 'class' as radius is the class's usual radius. 'class' as easement is what the class's rule gives for the radius that the
 * easement leads to; for an easement-only corner, whose radius follows from its easements, what it gives for the usual
 * radius. Between two arcs of a compound curve it is what the rule gives for the sharper one, times the part of its curvature that is
 * gained: curvature changes there as fast as on the way into that arc from a straight.
 *
 * Domain:     any track. Numbers go through as they are; traverseSolve judges them.
 * Outcome:    the traverse, or the legs that are not solved and the shifts that cannot be had.
 * Throws:     never.
 */
export function trackTraverse(track: Omit<Track, 'id'>, lineClass: LineClass, legPoseOf: LegPoseOf): TrackTraverseResult {
  const problems: AlignmentProblem[] = []
  const corners = track.corners.map((corner, i) => cornerResolved(corner, i, lineClass, problems))
  const start = trackEndResolved(track.start, 'start', legPoseOf, problems)
  const end = track.end.kind === 'closed' ? ({ kind: 'closed' } as const) : trackEndResolved(track.end, 'end', legPoseOf, problems)
  if (start === null || end === null || problems.length > 0) return { ok: false, problems, polygon: trackPolygon(track) }
  return { ok: true, traverse: { start, corners, end } }
}

/**
 * The line of a track, from its record, its class and the legs it hangs on: trackTraverse and traverseSolve in one.
 *
 * Throws:     never.
 */
export function trackAlignment(track: Omit<Track, 'id'>, lineClass: LineClass, legPoseOf: LegPoseOf): Alignment {
  const resolved = trackTraverse(track, lineClass, legPoseOf)
  if (resolved.ok) return traverseSolve(resolved.traverse)
  return { ok: false, problems: resolved.problems, polygon: resolved.polygon, pieces: [] }
}

function trackEndResolved(
  end: Exclude<Track['end'], { kind: 'closed' }>,
  which: 'start' | 'end',
  legPoseOf: LegPoseOf,
  problems: AlignmentProblem[],
): Traverse['start'] | null {
  if (end.kind === 'free') return { kind: 'free', at: { x: end.x, y: end.y } }
  const pose = legPoseOf(end.turnout, end.leg)
  if (pose !== null) return { kind: 'leg', pose, turnout: end.turnout }
  problems.push({ kind: 'legUnsolved', end: which, turnout: end.turnout })
  return null
}

function cornerResolved(corner: Corner, index: number, lineClass: LineClass, problems: AlignmentProblem[]): TraverseCorner {
  const { id, x, y, radius, easementIn, easementOut } = corner
  const faults: AlignmentProblem[] = []
  /** A typed easement, or what the class gives at a radius; for an easement-only corner (null) at the usual one. */
  const easementMm = (easement: ByClass, radiusMm: number | null): number => {
    if (easement !== 'class') return easement
    return classEasement(easementByRule(lineClass.easement, radiusMm ?? lineClass.usualRadiusMm), index, radiusMm, lineClass, faults)
  }
  const resolved = (radiusMm: TraverseCorner['radiusMm'], firstMm: number | null, lastMm: number | null): TraverseCorner => {
    const easementInMm = easementMm(easementIn, firstMm)
    const easementOutMm = easementMm(easementOut, lastMm)
    // One fault of the class is enough to a corner: in and out are mostly at fault together.
    problems.push(...faults.slice(0, 1))
    return { id, x, y, radiusMm, easementInMm, easementOutMm }
  }
  if (radius === 'easement-only') return resolved(null, null, null)
  if (typeof radius !== 'object') {
    const radiusMm = radiusOf(radius, lineClass)
    return resolved(radiusMm, radiusMm, radiusMm)
  }
  const first = { radiusMm: radiusOf(radius.first.radius, lineClass), turn: radius.first.turn }
  let before = first.radiusMm
  const next = radius.next.map(({ easement, radius: given, turn }) => {
    const radiusMm = radiusOf(given, lineClass)
    const between = (): number => classEasement(easementBetween(lineClass.easement, before, radiusMm), index, radiusMm, lineClass, faults)
    const arc = { easementMm: easement === 'class' ? between() : easement, radiusMm, turn }
    before = radiusMm
    return arc
  })
  return resolved({ first, next }, first.radiusMm, before)
}

const radiusOf = (radius: ByClass, lineClass: LineClass): number => (radius === 'class' ? lineClass.usualRadiusMm : radius)

/** What the class's rule gave for a corner; 0 where it gave nothing and the problem says why. */
function classEasement(
  result: EasementResult,
  corner: number,
  radiusMm: number | null,
  lineClass: LineClass,
  faults: AlignmentProblem[],
): number {
  if (result.ok) return result.lengthMm
  const { problem } = result
  switch (problem.kind) {
    case 'shiftImpossible':
      faults.push({ kind: 'shiftImpossible', corner, shiftMm: problem.shiftMm, maxShiftMm: problem.maxShiftMm })
      return 0
    case 'lengthNegative':
      return problem.lengthMm
    case 'radiusNotPositive':
      // A radius of the corner's own is judged when it is solved.
      if (radiusMm === null) faults.push({ kind: 'radiusNotPositive', corner, radiusMm: lineClass.usualRadiusMm })
      return 0
    case 'notFinite':
      faults.push({ kind: 'notFinite', where: `corner ${corner} easement by class` })
      return 0
  }
}

/**
 * What a track turns at one of its corners, rad, whatever its curves are: also where they cannot be solved.
 *
 * Outcome:    null where the track has no direction there, or is straight.
 * Throws:     never.
 */
export function cornerTurn(track: Track, lineClass: LineClass, legPoseOf: LegPoseOf, corner: number): number | null {
  const corners = track.corners.map((one): Corner => ({ ...one, radius: 1, easementIn: 0, easementOut: 0 }))
  const resolved = trackTraverse({ ...track, corners }, lineClass, legPoseOf)
  if (!resolved.ok || traverseNotFinite(resolved.traverse).length > 0) return null
  const turnRad = Math.abs(traversePolygon(resolved.traverse).deflections[corner] ?? 0)
  return turnRad >= STRAIGHT_RAD ? turnRad : null
}

/** The stored points of a track: start and end where they are free, and the PIs. */
function trackPolygon(track: Omit<Track, 'id'>): readonly Point[] {
  const points: Point[] = track.corners.map(({ x, y }) => ({ x, y }))
  if (track.start.kind === 'free' && track.end.kind !== 'closed') points.unshift({ x: track.start.x, y: track.start.y })
  if (track.end.kind === 'free') points.push({ x: track.end.x, y: track.end.y })
  if (track.end.kind === 'closed') points.push(...points.slice(0, 1))
  return points.every(({ x, y }) => Number.isFinite(x) && Number.isFinite(y)) ? points : []
}

/**
 * Where to show a problem: its own place, else the stored PI or end that it speaks of.
 *
 * Outcome:    null when the track has no point that could stand for it, or the point is not finite.
 * Throws:     never.
 */
export function alignmentProblemAt(problem: AlignmentProblem, track: Track): Point | null {
  const points = trackPolygon(track)
  const first = points[0] ?? null
  switch (problem.kind) {
    case 'coincidentPoints':
    case 'reversal':
    case 'easementsTooLong':
    case 'arcsMisfit':
    case 'sideTooShort':
    case 'behindLeg':
      return problem.at
    case 'radiusNotPositive':
    case 'easementNegative':
    case 'noCurvature':
    case 'arcWithoutTurn':
    case 'shiftImpossible': {
      const corner = track.corners[problem.corner]
      return corner === undefined || points.length === 0 ? first : { x: corner.x, y: corner.y }
    }
    case 'legUnsolved':
      return problem.end === 'start' ? first : (points.at(-1) ?? null)
    case 'notFinite':
    case 'legsNotInLine':
    case 'tooFewCorners':
    case 'circular':
    case 'closedFromLeg':
      return first
  }
}
