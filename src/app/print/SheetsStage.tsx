import { useState } from 'react'
import type { ReactNode } from 'react'
import { usePlan, usePrefs } from '../context.ts'
import { useDesk } from '../desk.ts'
import { useEngine } from '../engine.ts'
import { LengthField } from '../fields/fields.tsx'
import { ChoiceField } from '../fields/ValueField.tsx'
import type { Keep } from '../fields/ValueField.tsx'
import { fileSave } from '../file/planFile.ts'
import { LookFields } from './LookFields.tsx'
import { PrinterTruth } from './PrinterTruth.tsx'
import { paperChoices } from './sheetChoice.ts'
import type { SheetsNow } from './useSheets.ts'
import { useSheets } from './useSheets.ts'

const papers = paperChoices()

/** What to print, on what, and how true the printer is. */
export default function SheetsStage(): ReactNode {
  const sheets = useSheets()
  const prefs = usePrefs((state) => state)
  const overlapMm = useDesk((desk) => desk.overlapMm)
  const setDesk = useDesk((desk) => desk.set)
  const { choices, choice, set } = sheets
  const hasTrack = choices.length > 1
  if (!hasTrack) return <p className="lead">Sheets are printed of tracks and turnouts at full size. Lay a centreline first.</p>
  return (
    <>
      <p className="lead">
        Full size, to lay track on. Print at 100 %, never “fit to page”, and put a ruler on both bars before anything is glued.
      </p>
      <div className="fields">
        <ChoiceField
          label="Sheets of"
          value={choice?.value ?? ''}
          choices={choices}
          onChoose={(value) => setDesk({ sheetSubject: choices.find((candidate) => candidate.value === value)?.subject ?? null })}
        />
        <ChoiceField label="Paper" value={prefs.paper} choices={papers} onChoose={(paper) => prefs.setPrefs({ paper })} />
        {prefs.paper === 'roll' ? (
          <>
            <RollField label="Roll width" value={prefs.rollWidthMm} onMm={(rollWidthMm) => prefs.setPrefs({ rollWidthMm })} />
            <RollField label="Page length" value={prefs.rollLengthMm} onMm={(rollLengthMm) => prefs.setPrefs({ rollLengthMm })} />
          </>
        ) : null}
        <LengthField label="Overlap" value={overlapMm} keep={overlapKeep((mm) => setDesk({ overlapMm: mm }))} />
      </div>
      <LookFields />
      <SaveSheets sheets={sheets} />
      {set.problems.length === 0 ? null : (
        <ul className="problems">
          {set.problems.map((problem) => (
            <li key={problem}>{problem}</li>
          ))}
        </ul>
      )}
      <PrinterTruth />
    </>
  )
}

function overlapKeep(keep: (mm: number) => void): Keep<number> {
  return {
    commit: (mm) => {
      if (mm < 6 || mm > 60) return 'From 6 to 60 mm can be overlapped: less leaves no room for match marks.'
      keep(mm)
      return null
    },
  }
}

function RollField({
  label,
  value,
  onMm,
}: {
  readonly label: string
  readonly value: number
  readonly onMm: (mm: number) => void
}): ReactNode {
  return (
    <LengthField
      label={label}
      value={value}
      keep={{
        commit: (mm) => {
          if (mm < 100 || mm > 20_000) return 'From 100 mm to 20 m (4 in to 65 ft) can be printed on a roll.'
          onMm(mm)
          return null
        },
      }}
    />
  )
}

type Saving =
  | { readonly kind: 'no' }
  | { readonly kind: 'now' }
  | { readonly kind: 'done'; readonly name: string }
  | { readonly kind: 'failed'; readonly why: string }

/** The subject in letters that every file system takes. */
function sheetsFileName(subject: string): string {
  const stem = subject
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-|-$/g, '')
  return stem === '' ? 'sheets' : stem
}

function SaveSheets({ sheets }: { readonly sheets: SheetsNow }): ReactNode {
  const engine = useEngine()
  const plan = usePlan((state) => state.committed)
  const [saving, setSaving] = useState<Saving>({ kind: 'no' })
  const { choice, options, set } = sheets
  const pages = set.sheets.length
  const full = set.sheets.filter((sheet) => sheet.kind !== 'index').length

  async function save(): Promise<void> {
    if (choice === null || options === null) return
    setSaving({ kind: 'now' })
    try {
      const answer = await engine.sheets(plan, choice.subject, options)
      if (answer.problems.length > 0) {
        setSaving({ kind: 'failed', why: answer.problems.join(' ') })
        return
      }
      const name = `${sheetsFileName(choice.text)}.pdf`
      // A copy of its own: the answer may be a view of a larger buffer.
      fileSave(name, new Uint8Array(answer.pdf), 'application/pdf')
      setSaving({ kind: 'done', name })
    } catch (error) {
      setSaving({ kind: 'failed', why: error instanceof Error ? error.message : String(error) })
    }
  }

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
        {saving.kind === 'now' ? 'Drawing the sheets' : 'Save PDF'}
      </button>
      <p role="status" className="small">
        {saving.kind === 'done' ? <span className="soft">Saved as {saving.name}. Print it at 100 %.</span> : null}
        {saving.kind === 'failed' ? <span className="failed">The sheets were not saved. {saving.why}</span> : null}
      </p>
    </div>
  )
}
