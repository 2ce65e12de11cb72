import { useRef, useState } from 'react'
import type { ReactNode } from 'react'
import type { SheetsProgress } from '../../engine/protocol.ts'
import { usePlan } from '../context.ts'
import { useEngine } from '../engine.ts'
import { fileSave } from '../file/planFile.ts'
import type { SheetsNow } from './useSheets.ts'

type Saving =
  | { readonly kind: 'no' }
  | { readonly kind: 'now'; readonly at: SheetsProgress }
  | { readonly kind: 'stopped'; readonly of: SheetsNow['set'] }
  | { readonly kind: 'done'; readonly of: SheetsNow['set']; readonly name: string }
  | { readonly kind: 'failed'; readonly of: SheetsNow['set']; readonly why: string }

const progressText = (at: SheetsProgress): string => (at.kind === 'draw' ? 'Drawing the sheets' : `Page ${at.page} of ${at.pages}`)

/** The subject in letters that every file system takes. */
function sheetsFileName(subject: string): string {
  const stem = subject
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-|-$/g, '')
  return stem === '' ? 'sheets' : stem
}

/** Makes the PDF in the worker, tells page by page how far it is, and stops when told; stopped, nothing is saved. */
export function SaveSheets({ sheets }: { readonly sheets: SheetsNow }): ReactNode {
  const engine = useEngine()
  const plan = usePlan((state) => state.committed)
  const [saving, setSaving] = useState<Saving>({ kind: 'no' })
  const isWanted = useRef(true)
  const { choice, options, set } = sheets
  const pages = set.sheets.length
  const full = set.sheets.filter((sheet) => sheet.kind !== 'index').length

  async function save(): Promise<void> {
    if (choice === null || options === null) return
    isWanted.current = true
    setSaving({ kind: 'now', at: { kind: 'draw' } })
    try {
      const answer = await engine.sheets(plan, choice.subject, options, (at) => {
        if (isWanted.current) setSaving({ kind: 'now', at })
        return isWanted.current
      })
      if (answer.isStopped === true || !isWanted.current) {
        setSaving({ kind: 'stopped', of: set })
        return
      }
      if (answer.problems.length > 0) {
        setSaving({ kind: 'failed', of: set, why: answer.problems.join(' ') })
        return
      }
      const name = `${sheetsFileName(choice.text)}.pdf`
      // A copy of its own: the answer may be a view of a larger buffer.
      fileSave(name, new Uint8Array(answer.pdf), 'application/pdf')
      setSaving({ kind: 'done', of: set, name })
    } catch (error) {
      setSaving({ kind: 'failed', of: set, why: error instanceof Error ? error.message : String(error) })
    }
  }

  // How it went is told beside the sheets that it went so with, not beside others that are chosen since.
  const told = 'of' in saving && saving.of === set ? saving : null
  return (
    <div className="save-sheets">
      <p>
        {pages === 0
          ? 'No sheets.'
          : pages === full
            ? `${pages} ${pages === 1 ? 'sheet' : 'sheets'}.`
            : `${full} sheets and an index sheet.`}
      </p>
      <button type="button" className="act is-main" disabled={pages === 0 || saving.kind === 'now'} onClick={() => void save()}>
        {saving.kind === 'now' ? progressText(saving.at) : 'Save PDF'}
      </button>
      {saving.kind === 'now' ? (
        <button
          type="button"
          className="act"
          onClick={() => {
            isWanted.current = false
          }}
        >
          Stop
        </button>
      ) : null}
      <p role="status" className="small">
        {told?.kind === 'done' ? <span className="soft">Saved as {told.name}. Print it at 100 %.</span> : null}
        {told?.kind === 'stopped' ? <span className="soft">Stopped. Nothing was saved.</span> : null}
        {told?.kind === 'failed' ? <span className="failed">The sheets were not saved. {told.why}</span> : null}
      </p>
    </div>
  )
}
