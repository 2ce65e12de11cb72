import type { ReactNode } from 'react'
import type { Finding } from '../../core/checks/types.ts'
import { useDerived, usePlan, usePrefs, useStores } from '../context.ts'
import { findingCure, findingShow } from '../findings.ts'
import { findingPlace, findingText } from '../../words/findingText.ts'
import { findingsOfStage, stageOrder } from './stageWords.ts'

/** Every breach of a limit, by the stage in which it is cured. */
export function ChecksStage(): ReactNode {
  const findings = useDerived((state) => state.findings)
  const isStale = useDerived((state) => state.findingsFor !== state.derived.plan)
  if (findings.length === 0) {
    return (
      <p className="lead">
        {isStale ? 'Looking through the plan.' : 'Everything keeps within its limits: radii, easements, clearances, edges and frogs.'}
      </p>
    )
  }
  return (
    <>
      <p className="lead">Each breach with what was measured, what was asked, and the smallest change that cures it.</p>
      {stageOrder.map(({ name, word }) => {
        if (name === 'checks' || name === 'sheets') return null
        const here = findingsOfStage(findings, name)
        return here.length === 0 ? null : (
          <section key={name} className="findings">
            <h2>{word}</h2>
            <ol>
              {here.map((finding) => (
                <FindingRow key={finding.id} finding={finding} />
              ))}
            </ol>
          </section>
        )
      })}
    </>
  )
}

/** One finding; its number is that of its mark on the plan. */
export function FindingRow({ finding }: { readonly finding: Finding }): ReactNode {
  const stores = useStores()
  const plan = usePlan((state) => state.plan)
  const prefs = usePrefs((state) => state)
  const number = useDerived((state) => state.findings.indexOf(finding) + 1)
  const words = findingText(finding, plan, prefs)
  return (
    <li className={`finding is-${finding.severity}`}>
      <button type="button" className="finding-go" onClick={() => findingShow(stores, finding)}>
        <span className="finding-number" aria-hidden="true">
          {number}
        </span>
        <strong>{words.title}</strong>
        <span className="finding-body">{words.body}</span>
        <span className="soft small">{findingPlace(finding, plan)}</span>
      </button>
      {words.cure === null ? null : (
        <button type="button" className="act" onClick={() => findingCure(stores, finding)}>
          {words.cure}
        </button>
      )}
    </li>
  )
}
