import type { ReactNode } from 'react'
import { findingText } from '../../words/findingText.ts'
import { useDerived, usePlan, usePrefs, useStores } from '../context.ts'
import { findingShow } from '../findings.ts'

/** Leads from what waits to what it waits for. */
export function CauseLink({ id }: { readonly id: string }): ReactNode {
  const stores = useStores()
  const plan = usePlan((state) => state.plan)
  const prefs = usePrefs((state) => state)
  const at = useDerived(({ findings }) => findings.findIndex((finding) => finding.id === id))
  const cause = useDerived(({ findings }) => findings[at])
  return cause === undefined ? null : (
    <button type="button" className="act" onClick={() => findingShow(stores, cause)}>
      Go to finding {at + 1}: {findingText(cause, plan, prefs).title}
    </button>
  )
}
