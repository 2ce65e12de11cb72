import type { Alignment, AlignmentProblem } from '../core/alignment/types.ts'
import { networkCreateDeriver } from '../core/network/index.ts'
import type { Plan, Track } from '../core/plan/types.ts'
import { lengthBoth } from './answer.ts'
import { BadInput } from './badInput.ts'

/** The solved line of a track. Throws BadInput with what hinders it. */
export function lineSolved(plan: Plan, track: Track): Extract<Alignment, { ok: true }> {
  const alignment = networkCreateDeriver()(plan).tracks.get(track.id)?.alignment
  if (alignment?.ok) return alignment
  const problems = alignment?.problems ?? []
  throw new BadInput(`track ${track.name}: its line cannot be solved: ${problems.map(problemWords).join('; ')}. Mend the plan first.`)
}

function problemWords(problem: AlignmentProblem): string {
  switch (problem.kind) {
    case 'easementsTooLong':
      return `corner ${problem.corner + 1}: the easements turn more than the corner; ${lengthBoth(problem.shortByMm)} of arc is missing`
    case 'sideTooShort':
      return `side ${problem.side + 1}: ${lengthBoth(problem.needMm)} needed, ${lengthBoth(problem.haveMm)} there`
    case 'coincidentPoints':
      return `side ${problem.side + 1}: both of its ends lie on one spot`
    case 'reversal':
      return `corner ${problem.corner + 1}: the line turns back on itself`
    default:
      return problem.kind
  }
}
