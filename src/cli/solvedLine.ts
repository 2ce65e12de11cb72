import type { Alignment } from '../core/alignment/types.ts'
import { networkCreateDeriver } from '../core/network/index.ts'
import type { Plan, Track } from '../core/plan/types.ts'
import { recordName } from '../words/names.ts'
import { alignmentProblemText } from '../words/problemText.ts'
import { inBoth } from './answer.ts'
import { BadInput } from './badInput.ts'

/** The solved line of a track. Throws BadInput with what hinders it. */
export function lineSolved(plan: Plan, track: Track): Extract<Alignment, { ok: true }> {
  const alignment = networkCreateDeriver()(plan).tracks.get(track.id)?.alignment
  if (alignment?.ok) return alignment
  const problems = (alignment?.problems ?? []).map((problem) => alignmentProblemText(problem, track, plan, inBoth))
  throw new BadInput([`${recordName(plan, 'tracks', track.id)}: its line cannot be solved; mend the plan first.`, ...problems].join('\n'))
}
