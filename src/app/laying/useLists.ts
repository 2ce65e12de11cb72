import { useMemo } from 'react'
import { tickablesOf, ticksMatch } from '../../core/shopping/index.ts'
import type { Tickable, TicksMatched } from '../../core/shopping/index.ts'
import type { Plan } from '../../core/plan/types.ts'
import type { LayingAnswer } from '../../engine/protocol.ts'
import { useLaying, usePlan } from '../context.ts'

/** The lists at hand with their ticks. plan: the one that they were made of, which names what is on them. */
export interface ListsNow extends LayingAnswer {
  readonly plan: Plan
  readonly tickables: readonly Tickable[]
  readonly ticks: TicksMatched
}

/** null: no lists have been made yet. */
export function useLists(): ListsNow | null {
  const answer = useLaying((laying) => laying.answer)
  const plan = useLaying((laying) => laying.answerFor)
  const ticks = usePlan((state) => state.committed.ticks)
  const tickables = useMemo(() => (answer === null ? [] : tickablesOf(answer.lists)), [answer])
  const matched = useMemo(() => ticksMatch(Object.values(ticks), tickables), [ticks, tickables])
  return useMemo(
    () => (answer === null || plan === null ? null : { ...answer, plan, tickables, ticks: matched }),
    [answer, plan, tickables, matched],
  )
}
