import type { ReactNode } from 'react'
import { useDerived, usePrefs } from '../context.ts'
import { useEngine } from '../engine.ts'
import { SaveActs } from '../file/SaveActs.tsx'

/** The way from the findings to a report of them, to print or for a spreadsheet. Not of findings that belong to an older plan. */
export function ReportAct(): ReactNode {
  const engine = useEngine()
  const plan = useDerived((state) => state.derived.plan)
  const findings = useDerived((state) => state.findings)
  const silenced = useDerived((state) => state.silenced)
  const isStale = useDerived((state) => state.findingsFor !== state.derived.plan)
  const prefs = usePrefs((state) => state)
  return (
    <section className="record-list">
      <h2>Report</h2>
      <p className="lead">Limits, findings and what every track came to, on paper or for a spreadsheet.</p>
      <SaveActs
        what="Report"
        working="Making the report"
        isHeld={isStale}
        save={async (kind) => (await import('./reportSave.ts')).reportSave(kind, { engine, plan, findings, silenced, prefs })}
      />
    </section>
  )
}
