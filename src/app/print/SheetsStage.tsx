import type { ReactNode } from 'react'
import type { SheetSubject } from '../../core/deliver/types.ts'
import { usePlan, useStores } from '../context.ts'
import { useDesk } from '../desk.ts'
import { ChoiceField } from '../fields/ValueField.tsx'
import { planBoxNow } from '../planBox.ts'
import { LayCentreline } from '../stages/LayCentreline.tsx'
import { LookFields } from './LookFields.tsx'
import { PaperFields } from './PaperFields.tsx'
import { PartFields } from './PartFields.tsx'
import { PrinterTruth } from './PrinterTruth.tsx'
import { SaveSheets } from './SaveSheets.tsx'
import { useLists } from './useLists.ts'
import { useSheets } from './useSheets.ts'

/** What to print, on what, and how true the printer is. */
export default function SheetsStage(): ReactNode {
  const sheets = useSheets()
  const stores = useStores()
  const setDesk = useDesk((desk) => desk.set)
  const { choices, choice, set } = sheets
  useLists(choice)
  // A rectangle begins as the whole plan.
  const choose = (subject: SheetSubject | null): void =>
    setDesk({ sheetSubject: subject?.kind === 'region' ? { kind: 'region', box: planBoxNow(stores) ?? subject.box } : subject })
  const hasRoom = usePlan(({ committed: { walls, benchworks } }) => Object.keys(walls).length + Object.keys(benchworks).length > 0)
  const hasTrack = choices.some(({ subject }) => subject.kind !== 'bench')
  const first = 'Sheets are printed of tracks and turnouts at full size. They need a centreline first.'
  const begin = (
    <div className="acts is-column">
      <LayCentreline />
    </div>
  )
  if (!hasTrack && !hasRoom)
    return (
      <>
        <p className="lead">{first}</p>
        {begin}
      </>
    )
  return (
    <>
      <p className="lead">
        {hasTrack
          ? 'Full size, to lay track on. Print at 100 %, never “fit to page”, and put a ruler on both bars before anything is glued.'
          : `${first} The room can be printed already.`}
      </p>
      {hasTrack ? null : begin}
      <div className="fields">
        <ChoiceField
          label="Sheets of"
          value={choice?.value ?? ''}
          choices={choices}
          onChoose={(value) => choose(choices.find((candidate) => candidate.value === value)?.subject ?? null)}
        />
        {choice === null ? null : <PartFields subject={choice.subject} />}
      </div>
      {/* Before the paper and the look: both have usual values, and the button would lie under the edge of a low screen. */}
      <SaveSheets sheets={sheets} />
      {set.problems.length === 0 ? null : (
        <ul className="problems">
          {set.problems.map((problem) => (
            <li key={problem}>{problem}</li>
          ))}
        </ul>
      )}
      <div className="fields">
        <PaperFields />
      </div>
      <LookFields />
      <PrinterTruth />
    </>
  )
}
