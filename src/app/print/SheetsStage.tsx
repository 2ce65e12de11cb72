import type { ReactNode } from 'react'
import { usePrefs } from '../context.ts'
import { useDesk } from '../desk.ts'
import { LengthField } from '../fields/fields.tsx'
import { ChoiceField } from '../fields/ValueField.tsx'
import type { Keep } from '../fields/ValueField.tsx'
import { LookFields } from './LookFields.tsx'
import { PrinterTruth } from './PrinterTruth.tsx'
import { SaveSheets } from './SaveSheets.tsx'
import { paperChoices } from './sheetChoice.ts'
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
