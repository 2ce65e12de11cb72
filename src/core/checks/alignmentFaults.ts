import { alignmentProblemAt } from '../alignment/index.ts'
import type { AlignmentProblem } from '../alignment/types.ts'
import type { NetworkTrack } from '../network/types.ts'
import type { Id, Track } from '../plan/types.ts'
import type { Cure, Finding, RuleName } from './types.ts'

/** The corner that a problem speaks of, or the one behind the side it speaks of. */
function problemCorner(problem: AlignmentProblem, track: Track): Id | null {
  switch (problem.kind) {
    case 'radiusNotPositive':
    case 'easementNegative':
    case 'reversal':
    case 'easementsTooLong':
    case 'noCurvature':
    case 'arcsMisfit':
    case 'arcWithoutTurn':
    case 'shiftImpossible':
      return track.corners[problem.corner]?.id ?? null
    case 'behindLeg':
      return (problem.end === 'start' ? track.corners[0] : track.corners.at(-1))?.id ?? null
    case 'coincidentPoints':
    case 'sideTooShort':
      return track.corners[problem.side]?.id ?? track.corners.at(-1)?.id ?? null
    case 'notFinite':
    case 'legUnsolved':
    case 'legsNotInLine':
    case 'tooFewCorners':
    case 'circular':
    case 'closedFromLeg':
      return null
  }
}

/** What tells two problems of one track apart, for the finding's id. */
function problemPlace(problem: AlignmentProblem): string {
  if ('corner' in problem) return `${problem.kind}:${problem.corner}`
  if ('side' in problem) return `${problem.kind}:${problem.side}`
  if ('end' in problem) return `${problem.kind}:${problem.end}`
  if (problem.kind === 'notFinite') return `${problem.kind}:${problem.where}`
  return problem.kind
}

interface ProblemSize {
  readonly measured: number | null
  readonly limit: number | null
}

/** A finding that carries an alignment's problem. */
export function alignmentFinding(
  rule: RuleName,
  { track, alignment }: NetworkTrack,
  problem: AlignmentProblem,
  size: ProblemSize,
  cure: Cure | null,
): Finding {
  // A track from leg to leg has no stored points; the legs are on its polygon once they have a place.
  const [first = { x: 0, y: 0 }] = alignment.ok ? [] : alignment.polygon
  const at = alignmentProblemAt(problem, track) ?? first
  return {
    id: `${rule}:${track.id}:${problemPlace(problem)}`,
    rule,
    // A track that waits for its turnout is cured where the turnout is.
    severity: problem.kind === 'legUnsolved' ? 'warning' : 'error',
    stage: 'line',
    table: 'tracks',
    record: track.id,
    otherRecord: problem.kind === 'legUnsolved' ? problem.turnout : null,
    corner: problemCorner(problem, track),
    stationFromMm: null,
    stationToMm: null,
    x: at.x,
    y: at.y,
    measured: size.measured,
    limit: size.limit,
    unit: 'mm',
    source: 'geometry',
    problem,
    cure,
  }
}

/** A curve that wants more room than there is, or easements that its radius cannot have. */
export type FitFault = Extract<AlignmentProblem, { kind: 'easementsTooLong' | 'sideTooShort' | 'shiftImpossible' }>

/** True for problems that rule easement-fit tells, with what is missing. */
export function isEasementProblem(problem: AlignmentProblem): problem is FitFault {
  return problem.kind === 'easementsTooLong' || problem.kind === 'sideTooShort' || problem.kind === 'shiftImpossible'
}

/** Everything that keeps a track from being a line, except curves that want more room. */
export function alignmentFaults(networkTrack: NetworkTrack): readonly Finding[] {
  const { alignment } = networkTrack
  if (alignment.ok) return []
  return alignment.problems
    .filter((problem) => !isEasementProblem(problem))
    .map((problem) => alignmentFinding('alignment', networkTrack, problem, { measured: null, limit: null }, null))
}
