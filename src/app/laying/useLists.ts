import { useMemo } from 'react'
import { tickablesOf, ticksMatch } from '../../core/shopping/index.ts'
import type { Tickable, TicksMatched } from '../../core/shopping/index.ts'
import type { Plan } from '../../core/plan/types.ts'
import type { LayingAnswer } from '../../engine/protocol.ts'
import { layingListTables } from '../../words/layingLists.ts'
import type { ListsInWords } from '../../words/layingLists.ts'
import { useLaying, usePlan, usePrefs } from '../context.ts'

/** The lists at hand with their words and ticks. plan: the one that they were made of, which names what is on them. */
export interface ListsNow extends LayingAnswer {
  readonly plan: Plan
  readonly words: ListsInWords
  readonly tickables: readonly Tickable[]
  readonly ticks: TicksMatched
}

/** null: no lists have been made yet. */
export function useLists(): ListsNow | null {
  const answer = useLaying((laying) => laying.answer)
  const plan = useLaying((laying) => laying.answerFor)
  const ticks = usePlan((state) => state.committed.ticks)
  const units = usePrefs((prefs) => prefs.units)
  const fraction = usePrefs((prefs) => prefs.fraction)
  const told = useMemo(
    () =>
      answer === null || plan === null
        ? null
        : {
            ...answer,
            plan,
            words: layingListTables(plan, answer.lists, answer.shopping, { units, fraction }),
            tickables: tickablesOf(answer.lists),
          },
    [answer, plan, units, fraction],
  )
  return useMemo(() => (told === null ? null : { ...told, ticks: ticksMatch(Object.values(ticks), told.tickables) }), [told, ticks])
}
