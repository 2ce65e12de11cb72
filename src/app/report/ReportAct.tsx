import { useState } from 'react'
import type { ReactNode } from 'react'
import { useDerived, usePrefs } from '../context.ts'
import { useEngine } from '../engine.ts'

type Saving = { readonly kind: 'no' } | { readonly kind: 'now' } | { readonly kind: 'said'; readonly text: string; readonly isBad: boolean }

/** The way from the findings to a report of them, to print or for a spreadsheet. */
export function ReportAct(): ReactNode {
  const engine = useEngine()
  const derived = useDerived((state) => state.derived)
  const findings = useDerived((state) => state.findings)
  const silenced = useDerived((state) => state.silenced)
  const isStale = useDerived((state) => state.findingsFor !== state.derived.plan)
  const prefs = usePrefs((state) => state)
  const [saving, setSaving] = useState<Saving>({ kind: 'no' })

  async function save(kind: 'pdf' | 'csv'): Promise<void> {
    setSaving({ kind: 'now' })
    try {
      const { reportSave } = await import('./reportSave.ts')
      setSaving({ kind: 'said', text: await reportSave(kind, { engine, derived, findings, silenced, prefs }), isBad: false })
    } catch (error) {
      setSaving({ kind: 'said', text: error instanceof Error ? error.message : String(error), isBad: true })
    }
  }

  // A report must not be of findings that belong to an older plan.
  const isBusy = saving.kind === 'now' || isStale
  return (
    <section className="record-list">
      <h2>Report</h2>
      <p className="lead">Limits, findings and what every track came to, on paper or for a spreadsheet.</p>
      <div className="acts">
        <button type="button" className="act" disabled={isBusy} onClick={() => void save('pdf')}>
          {saving.kind === 'now' ? 'Making the report' : 'Report as PDF'}
        </button>
        <button type="button" className="act" disabled={isBusy} onClick={() => void save('csv')}>
          Report as CSV
        </button>
      </div>
      <p role="status" className={saving.kind === 'said' && saving.isBad ? 'problems' : 'soft small'}>
        {saving.kind === 'said' ? saving.text : ''}
      </p>
    </section>
  )
}
