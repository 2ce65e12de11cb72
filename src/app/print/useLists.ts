import { useEffect } from 'react'
import { benchCuts } from '../../core/deliver/index.ts'
import { useLaying, usePlan } from '../context.ts'
import type { SubjectChoice } from './sheetChoice.ts'

/** Has the lists of what is cut made while sheets of cuts are chosen, and made anew when the plan has changed. */
export function useLists(choice: SubjectChoice | null): void {
  const plan = usePlan((state) => state.committed)
  const answerFor = useLaying((laying) => laying.answerFor)
  const isResting = useLaying(({ work }) => work.kind === 'rest')
  const again = useLaying((laying) => laying.again)
  const isWanted = choice !== null && benchCuts(choice.subject)
  useEffect(() => {
    if (isWanted && isResting && answerFor !== plan) again()
  }, [isWanted, isResting, answerFor, plan, again])
}
