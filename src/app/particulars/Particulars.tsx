import { Suspense, lazy } from 'react'
import type { ReactNode } from 'react'
import { useSession } from '../context.ts'
import { useDesk } from '../desk.ts'
import { RailwayParticulars, SelectedParticulars } from '../lateParts.ts'
import { isLayingStage } from '../stages/stageWords.ts'

// What is done to a line comes when it is first asked for.
const LineActPanel = lazy(() => import('../lineActs/LineActPanel.tsx'))

// Rules of laying come with its stages.
const LayingParticulars = lazy(() => import('../laying/LayingParticulars.tsx'))

// Makers come when the first one is asked for.
const MakerDraftPanel = lazy(() => import('../makers/MakerDraftPanel.tsx'))

/** The numbers of what is selected; of the railway, or of how it is laid, when nothing is. */
export function Particulars(): ReactNode {
  const act = useDesk((desk) => desk.lineAct)
  if (act === null) return <OfSelection />
  return (
    <Suspense fallback={null}>
      <LineActPanel key={JSON.stringify(act)} act={act} />
    </Suspense>
  )
}

function OfSelection(): ReactNode {
  const selection = useSession((session) => session.selection)
  const isLaying = useSession(({ stage }) => isLayingStage(stage))
  const draft = useDesk((desk) => desk.makerDraft)
  if (draft !== null) {
    return (
      <Suspense fallback={null}>
        <MakerDraftPanel key={draft.id} maker={draft} />
      </Suspense>
    )
  }
  if (selection.kind === 'none')
    return isLaying ? (
      <Suspense fallback={null}>
        <LayingParticulars />
      </Suspense>
    ) : (
      <RailwayParticulars />
    )
  return <SelectedParticulars selection={selection} />
}
