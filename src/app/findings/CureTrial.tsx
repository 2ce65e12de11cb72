import { useEffect, useMemo, useState } from 'react'
import type { ReactNode } from 'react'
import { settleFindings } from '../../core/checks/index.ts'
import type { Cure, Finding } from '../../core/checks/types.ts'
import type { ChecksNews } from '../../engine/planChecks.ts'
import { cureOutcome, cureOutcomeText } from '../../words/checksText.ts'
import { useDerived, usePlan, usePrefs, useStores } from '../context.ts'
import { useDeskStore } from '../desk.ts'
import { Act } from '../particulars/acts.tsx'
import { planEdit } from '../planEdit.ts'
import { cureStep } from './cureStep.ts'
import { useInSight } from './useInSight.ts'

/** A cure as it would lie on the plan, with what else it would change; then done as one step, or left. */
export function CureTrial({
  finding,
  cure,
  onShut,
}: {
  readonly finding: Finding
  readonly cure: Cure
  readonly onShut: () => void
}): ReactNode {
  const stores = useStores()
  const desk = useDeskStore()
  const plan = usePlan((state) => state.plan)
  const network = useDerived((state) => state.derived.network)
  const open = useDerived((state) => state.findings)
  const prefs = usePrefs((state) => state)
  const [news, setNews] = useState<ChecksNews | null>(null)
  const acts = useInSight()
  const step = useMemo(() => cureStep(plan, network, cure, prefs), [plan, network, cure, prefs])

  useEffect(() => {
    if (!step.ok) return undefined
    let isCurrent = true
    const [chosen = null, ...others] = step.paths
    desk.getState().set({ trial: { chosen, others, ends: [] } })
    void stores.checks.lookThrough(step.after).then((heard) => (isCurrent ? setNews(heard) : undefined))
    return () => {
      isCurrent = false
      desk.getState().set({ trial: null })
    }
  }, [step, stores, desk])

  if (!step.ok) return <p className="finding-outcome">{step.problem}</p>
  return (
    <div className="finding-panel">
      <div className="finding-outcome" role="status">
        {outcomeOf(news, step.after, step.paths.length > 0).map((sentence) => (
          <p key={sentence}>{sentence}</p>
        ))}
      </div>
      <div className="acts" ref={acts}>
        <Act
          isMain
          onClick={() => {
            if (planEdit(stores, step.command).problem !== null) return
            onShut()
            // The row that was pressed in is gone with what it told: the keys go on at the plan, where the change is.
            document.querySelector<HTMLElement>('.canvas')?.focus({ preventScroll: true })
          }}
        >
          Apply
        </Act>
        <Act onClick={onShut}>Leave</Act>
      </div>
    </div>
  )

  function outcomeOf(heard: ChecksNews | null, after: typeof plan, isDrawn: boolean): readonly string[] {
    const drawn = isDrawn ? ['Drawn on the plan.'] : []
    if (heard === null || heard.plan !== after) return [...drawn, 'The checks look through the plan with it.']
    if (!heard.ok) return [...drawn, 'What else it changes could not be checked.']
    return cureOutcomeText(cureOutcome(finding, open, settleFindings(after, heard.findings).open), after, prefs)
  }
}
