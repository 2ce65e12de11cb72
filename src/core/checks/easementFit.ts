import { easementsLargestFitting, trackTraverse } from '../alignment/index.ts'
import type { Traverse } from '../alignment/types.ts'
import type { Pose } from '../geom/types.ts'
import type { NetworkTrack } from '../network/types.ts'
import type { Track } from '../plan/types.ts'
import { alignmentFinding, isEasementProblem } from './alignmentFaults.ts'
import type { FitFault } from './alignmentFaults.ts'
import { cureCorner, cureTried, legPosesOf } from './cornerCure.ts'
import type { CornerCure } from './cornerCure.ts'
import { radiusNearest, radiusRoom, roundedDown } from './radiusRoom.ts'
import type { Finding, RadiusRoom } from './types.ts'

/**
 * Curves that want more of a side than there is, and easements that turn more than their corner.
 *
 * Measured and limit are the length there is and the length asked: for a side both in mm along it; for easements the
 * arc between the tangents without easements (R D) against what the easements alone take (R theta).
 * The cures are the nearest radius or the longest easements that fit, and easements that meet; each is offered only when the track, solved
 * anew with it, has fewer problems and no radius under the minimum of its class that the builder did not choose.
 */
export function easementFit(networkTrack: NetworkTrack, startLeg: Pose | null, endLeg: Pose | null): readonly Finding[] {
  const { track, lineClass, alignment } = networkTrack
  if (alignment.ok) return []
  const problems = alignment.problems.filter(isEasementProblem)
  if (problems.length === 0) return []
  const legPoseOf = legPosesOf(track, startLeg, endLeg)
  const resolved = trackTraverse(track, lineClass, legPoseOf)
  const isBetter = (cure: CornerCure): boolean => {
    const after = cureTried(networkTrack, cure, legPoseOf)
    const radius = cure.kind === 'easementsMeet' ? 'easement-only' : cureCorner(track, cure)?.radius
    if (!after.ok) return radius !== 'easement-only' && after.problems.length < alignment.problems.length
    const place = after.corners.find(({ cornerId }) => cornerId === cure.corner)
    // Radii that the builder chose under the minimum are a finding of their own; shorter easements do not make it worse.
    if (typeof radius === 'object') return place !== undefined
    const leastMm = typeof radius === 'number' ? Math.min(lineClass.minRadiusMm, radius) : lineClass.minRadiusMm
    return place !== undefined && place.solution.radiusMm >= leastMm
  }
  return problems.map((problem) => {
    const rooms = problemCorners(problem, track).flatMap((corner) => radiusRoom(networkTrack, legPoseOf, corner) ?? [])
    const sorted = rooms.toSorted((a, b) => changeOf(a) - changeOf(b))
    const [cure = null, ...others] = fitCures(problem, track, sorted, resolved.ok ? resolved.traverse : null).filter(isBetter)
    const [room] = sorted
    const finding = alignmentFinding('easement-fit', networkTrack, problem, fitSize(problem), cure)
    return { ...finding, ...(others.length === 0 ? {} : { others }), ...(room === undefined ? {} : { room }) }
  })
}

function fitSize(problem: FitFault): { readonly measured: number; readonly limit: number } {
  switch (problem.kind) {
    case 'sideTooShort':
      return { measured: problem.haveMm, limit: problem.needMm }
    case 'shiftImpossible':
      return { measured: problem.maxShiftMm, limit: problem.shiftMm }
    case 'easementsTooLong': {
      // excess = theta (1 - factor) and short = R excess, so R theta = short / (1 - factor).
      const limit = problem.shortByMm / (1 - problem.fittingFactor)
      return { measured: limit - problem.shortByMm, limit }
    }
  }
}

/** Corners whose curves could be others: of a side both beside it. */
function problemCorners(problem: FitFault, { corners, end }: Track): readonly number[] {
  if (problem.kind !== 'sideTooShort') return [problem.corner]
  const before = end.kind === 'closed' && problem.side === 0 ? corners.length - 1 : problem.side - 1
  return [before, problem.side].filter((corner) => corner >= 0 && corner < corners.length)
}

/** How far a radius is from one that fits, as a part of itself; a corner that no radius fits comes last. */
function changeOf({ radiusMm, leastMm, mostMm }: RadiusRoom): number {
  if (mostMm === null) return Infinity
  if (leastMm !== null && radiusMm < leastMm) return leastMm / radiusMm
  return radiusMm > mostMm ? radiusMm / mostMm : 1
}

/**
 * What could help, the gentlest first: easements that are too long can meet with no arc left, or be shorter; for a short side the smaller
 * change of radius. A radius under that of the class is better cured itself.
 */
function fitCures(problem: FitFault, track: Track, rooms: readonly RadiusRoom[], traverse: Traverse | null): readonly CornerCure[] {
  const radii = rooms.flatMap((room) => radiusCure(track, room) ?? [])
  const easements = problemCorners(problem, track).flatMap((corner) => easementCure(track, traverse, corner) ?? [])
  if (problem.kind === 'sideTooShort') return [...radii, ...easements]
  const isUnderClass = rooms.some(({ radiusMm, classMm }) => radiusMm < classMm)
  const eased = [...(problem.kind === 'easementsTooLong' ? meetCure(track, problem.corner) : []), ...easements]
  return isUnderClass ? [...radii, ...eased] : [...eased, ...radii]
}

function meetCure(track: Track, index: number): readonly CornerCure[] {
  const corner = track.corners[index]
  return corner === undefined || typeof corner.radius === 'object' ? [] : [{ kind: 'easementsMeet', track: track.id, corner: corner.id }]
}

function radiusCure(track: Track, room: RadiusRoom): CornerCure | null {
  const corner = track.corners[room.corner]
  const radiusMm = radiusNearest(room)
  return corner === undefined || radiusMm === null || radiusMm === room.radiusMm
    ? null
    : { kind: 'setRadius', track: track.id, corner: corner.id, radiusMm }
}

function easementCure(track: Track, traverse: Traverse | null, index: number): CornerCure | null {
  const corner = track.corners[index]
  const pair = traverse === null ? null : easementsLargestFitting(traverse, index)
  if (corner === undefined || pair === null) return null
  const [easementInMm, easementOutMm] = [roundedDown(pair.easementInMm), roundedDown(pair.easementOutMm)]
  return easementInMm + easementOutMm > 0
    ? { kind: 'scaleEasements', track: track.id, corner: corner.id, easementInMm, easementOutMm }
    : null
}
