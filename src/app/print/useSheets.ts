import { useMemo, useState } from 'react'
import { sheetsForSubject } from '../../core/deliver/index.ts'
import type { SheetOptions, SheetSet } from '../../core/deliver/types.ts'
import type { Derived } from '../../core/pipeline/types.ts'
import { useDerived, usePlan, usePrefs, useSession } from '../context.ts'
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
let kept: { readonly derived: Derived; readonly key: string; readonly set: SheetSet } | null = null

function sheetSet(derived: Derived, choice: SubjectChoice, options: SheetOptions): SheetSet {
  const key = JSON.stringify([choice.subject, options])
  if (kept === null || kept.derived !== derived || kept.key !== key)
    kept = { derived, key, set: sheetsForSubject(derived, choice.subject, options) }
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
  const look = useDesk((desk) => desk.sheetLook)
  const [today] = useState(() => dayText(new Date()))
  return useMemo(() => {
    const choices = subjectChoices(plan, derived.network.crossings)
    const choice = subjectOf(chosen, selection, choices)
    const plain = sheetOptions(prefs, overlapMm, today)
    const options = plain && (look === null ? plain : { ...plain, look })
    return { choices, choice, options, set: choice === null || options === null ? nothing : sheetSet(derived, choice, options) }
  }, [plan, derived, prefs, selection, chosen, overlapMm, look, today])
}
