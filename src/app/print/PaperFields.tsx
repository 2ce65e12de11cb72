import type { ReactNode } from 'react'
import { PAPER_SIDE_MAX_MM, PAPER_SIDE_MIN_MM } from '../../core/deliver/index.ts'
import type { DeskState } from '../desk.ts'
import { usePrefs } from '../context.ts'
import { useDesk } from '../desk.ts'
import { LengthField } from '../fields/fields.tsx'
import { ChoiceField } from '../fields/ValueField.tsx'
import { lengthText } from '../../words/measure.ts'
import { paperChoices } from './sheetChoice.ts'

const papers = paperChoices()

const ways: readonly { readonly value: DeskState['tiling']; readonly text: string }[] = [
  { value: 'fewest', text: 'As takes fewest' },
  { value: 'grid', text: 'In rows' },
  { value: 'line', text: 'Along the track' },
]

/** The paper, what of it the printer reaches, and how the sheets lie on the plan. */
export function PaperFields(): ReactNode {
  const prefs = usePrefs((state) => state)
  const { overlapMm, marginMm, tiling, set: setDesk } = useDesk((desk) => desk)
  return (
    <>
      <ChoiceField label="Paper" value={prefs.paper} choices={papers} onChoose={(paper) => prefs.setPrefs({ paper })} />
      {prefs.paper === 'own' ? (
        <>
          <SideField label="Paper width" value={prefs.ownWidthMm} onMm={(ownWidthMm) => prefs.setPrefs({ ownWidthMm })} />
          <SideField label="Paper height" value={prefs.ownHeightMm} onMm={(ownHeightMm) => prefs.setPrefs({ ownHeightMm })} />
        </>
      ) : null}
      {prefs.paper === 'roll' ? (
        <>
          <SideField label="Roll width" value={prefs.rollWidthMm} onMm={(rollWidthMm) => prefs.setPrefs({ rollWidthMm })} />
          <SideField label="Page length" value={prefs.rollLengthMm} onMm={(rollLengthMm) => prefs.setPrefs({ rollLengthMm })} />
        </>
      ) : null}
      <ChoiceField
        label="Sheets lie"
        value={tiling}
        choices={ways}
        onChoose={(value) => setDesk({ tiling: ways.find((way) => way.value === value)?.value ?? 'fewest' })}
      />
      <LengthField
        label="Overlap"
        value={overlapMm}
        keep={{
          commit: (mm) => {
            if (mm < 6 || mm > 60)
              return `From ${lengthText(6, prefs)} to ${lengthText(60, prefs)} can be overlapped: less leaves no room for match marks.`
            setDesk({ overlapMm: mm })
            return null
          },
        }}
      />
      <LengthField
        label="Margin"
        value={marginMm}
        range="zeroUp"
        keep={{
          commit: (mm) => {
            if (mm > 60)
              return `Printers leave ${lengthText(3, prefs)} to ${lengthText(7, prefs)} of the paper white; up to ${lengthText(60, prefs)} can be left.`
            setDesk({ marginMm: mm })
            return null
          },
        }}
      />
    </>
  )
}

function SideField({
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
          if (mm < PAPER_SIDE_MIN_MM || mm > PAPER_SIDE_MAX_MM)
            return `From ${PAPER_SIDE_MIN_MM} mm to ${PAPER_SIDE_MAX_MM} mm (4 in to 200 in): a page of a PDF is no longer. What is longer runs on over several pages of the roll.`
          onMm(mm)
          return null
        },
      }}
    />
  )
}
