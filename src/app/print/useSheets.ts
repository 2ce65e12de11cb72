import { useMemo, useState } from 'react'
import { benchCuts, sheetsForSubject } from '../../core/deliver/index.ts'
import type { SheetOptions, SheetSet } from '../../core/deliver/types.ts'
import type { Derived } from '../../core/pipeline/types.ts'
import type { LayingLists } from '../../core/shopping/types.ts'
import { useDerived, useLaying, usePlan, usePrefs, useSession } from '../context.ts'
import { useDesk } from '../desk.ts'
import { dayText, sheetOptions, subjectChoices, subjectOf } from './sheetChoice.ts'
import type { SubjectChoice } from './sheetChoice.ts'

export interface SheetsNow {
  readonly choices: readonly SubjectChoice[]
  readonly choice: SubjectChoice | null
  readonly options: SheetOptions | null
  readonly set: SheetSet
}

const nothing: SheetSet = { title: '', sheets: [], problems: [] }

/** The last set laid out: the column and the pages both ask for it and it is laid out once. */
let kept: { readonly derived: Derived; readonly lists: LayingLists | null; readonly key: string; readonly set: SheetSet } | null = null

function sheetSet(derived: Derived, choice: SubjectChoice, options: SheetOptions, lists: LayingLists | null): SheetSet {
  const key = JSON.stringify([choice.subject, options])
  if (kept === null || kept.derived !== derived || kept.key !== key || kept.lists !== lists)
    kept = { derived, lists, key, set: sheetsForSubject(derived, choice.subject, options, lists) }
  return kept.set
}

/** What is chosen to be printed, and its sheets. */
export function useSheets(): SheetsNow {
  const plan = usePlan((state) => state.committed)
  const derived = useDerived((state) => state.derived)
  const prefs = usePrefs((state) => state)
  const selection = useSession((session) => session.selection)
  const chosen = useDesk((desk) => desk.sheetSubject)
  const overlapMm = useDesk((desk) => desk.overlapMm)
  const marginMm = useDesk((desk) => desk.marginMm)
  const tiling = useDesk((desk) => desk.tiling)
  const look = useDesk((desk) => desk.sheetLook)
  const answer = useLaying((laying) => laying.answer)
  const answerFor = useLaying((laying) => laying.answerFor)
  const [today] = useState(() => dayText(new Date()))
  return useMemo(() => {
    const choices = subjectChoices(plan, derived.network.crossings)
    const choice = subjectOf(chosen, selection, choices)
    const plain = sheetOptions(prefs, { overlapMm, marginMm, tiling }, today)
    const options = plain && (look === null ? plain : { ...plain, look })
    // Lists of the plan as it was would name pieces that are not there any more.
    const lists = choice !== null && benchCuts(choice.subject) && answerFor === plan ? (answer?.lists ?? null) : null
    return { choices, choice, options, set: choice === null || options === null ? nothing : sheetSet(derived, choice, options, lists) }
  }, [answer, answerFor, plan, derived, prefs, selection, chosen, overlapMm, marginMm, tiling, look, today])
}
