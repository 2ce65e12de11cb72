import { easementsLargestFitting, radiusLargestFitting, trackTraverse } from '../alignment/index.ts'
import type { AlignmentProblem, Traverse } from '../alignment/types.ts'
import type { Pose } from '../geom/types.ts'
import type { NetworkTrack } from '../network/types.ts'
import type { Track } from '../plan/types.ts'
import { alignmentFinding, isEasementProblem } from './alignmentFaults.ts'
import { cureCorner, cureTried, legPosesOf } from './cornerCure.ts'
import type { CornerCure } from './cornerCure.ts'
import type { Finding } from './types.ts'

type FitProblem = Extract<AlignmentProblem, { kind: 'easementsTooLong' | 'sideTooShort' }>

/** Cures are rounded down to this, so that a typed value shows all its digits. Shorter always fits. */
const CURE_STEP_MM = 0.1

const roundedDown = (lengthMm: number): number => Math.floor(lengthMm / CURE_STEP_MM + 1e-9) * CURE_STEP_MM
/** Through its text, for a tenth as a sum of doubles is not the tenth that is typed. */
const tidy = (lengthMm: number): number => Number(roundedDown(lengthMm).toFixed(1))

/**
 * Curves that want more of a side than there is, and easements that turn more than their corner.
 *
 * Measured and limit are the length there is and the length asked: for a side both in mm along it; for easements the
 * arc between the tangents without easements (R D) against what the easements alone take (R theta).
 * The cure is the largest radius or the longest easements that fit, or easements that meet; it is offered only when the track, solved anew with it, has fewer
 * problems and no radius under the minimum of its class.
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
    const cures = resolved.ok ? fitCures(problem, networkTrack, resolved.traverse) : []
    return alignmentFinding('easement-fit', track, problem, fitSize(problem), cures.find(isBetter) ?? null)
  })
}

function fitSize(problem: FitProblem): { readonly measured: number; readonly limit: number } {
  if (problem.kind === 'sideTooShort') return { measured: problem.haveMm, limit: problem.needMm }
  // excess = theta (1 - factor) and short = R excess, so R theta = short / (1 - factor).
  const limit = problem.shortByMm / (1 - problem.fittingFactor)
  return { measured: limit - problem.shortByMm, limit }
}

/** What could help, the gentlest first: easements that are too long can meet with no arc left, or be shorter; for a short side the smaller change of radius. */
function fitCures(problem: FitProblem, { track, lineClass }: NetworkTrack, traverse: Traverse): readonly CornerCure[] {
  if (problem.kind === 'easementsTooLong') {
    return [
      meetCure(track, problem.corner),
      easementCure(track, traverse, problem.corner),
      radiusCure(track, traverse, problem.corner, lineClass.minRadiusMm),
    ].filter((cure) => cure !== null)
  }
  const count = track.corners.length
  const before = track.end.kind === 'closed' && problem.side === 0 ? count - 1 : problem.side - 1
  const corners = [before, problem.side].filter((corner) => corner >= 0 && corner < count)
  const radii = corners
    .map((corner) => ({ corner, cure: radiusCure(track, traverse, corner, lineClass.minRadiusMm) }))
    .flatMap(({ corner, cure }) => {
      const wasMm = traverse.corners[corner]?.radiusMm
      return cure === null ? [] : [{ cure, part: typeof wasMm === 'number' ? cure.radiusMm / wasMm : 1 }]
    })
    .toSorted((a, b) => b.part - a.part)
    .map(({ cure }) => cure)
  return [...radii, ...corners.map((corner) => easementCure(track, traverse, corner)).filter((cure) => cure !== null)]
}

function meetCure(track: Track, index: number): Extract<CornerCure, { kind: 'easementsMeet' }> | null {
  const corner = track.corners[index]
  return corner === undefined || typeof corner.radius === 'object' ? null : { kind: 'easementsMeet', track: track.id, corner: corner.id }
}

function radiusCure(
  track: Track,
  traverse: Traverse,
  index: number,
  minRadiusMm: number,
): Extract<CornerCure, { kind: 'setRadius' }> | null {
  const corner = track.corners[index]
  if (corner === undefined || corner.radius === 'easement-only') return null
  const fittingMm = radiusLargestFitting(traverse, index)
  if (fittingMm === null) return null
  const radiusMm = tidy(fittingMm)
  return radiusMm >= minRadiusMm ? { kind: 'setRadius', track: track.id, corner: corner.id, radiusMm } : null
}

function easementCure(track: Track, traverse: Traverse, index: number): Extract<CornerCure, { kind: 'scaleEasements' }> | null {
  const corner = track.corners[index]
  const pair = easementsLargestFitting(traverse, index)
  if (corner === undefined || pair === null) return null
  const easementInMm = tidy(pair.easementInMm)
  const easementOutMm = tidy(pair.easementOutMm)
  return easementInMm + easementOutMm > 0
    ? { kind: 'scaleEasements', track: track.id, corner: corner.id, easementInMm, easementOutMm }
    : null
}
