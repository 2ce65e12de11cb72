import type { ReactNode } from 'react'
import { useLaying } from '../context.ts'
import { LayingWork } from './LayingWork.tsx'

/** What roadbed to cut and where it lies. */
export default function RoadbedStage(): ReactNode {
  const answer = useLaying((laying) => laying.answer)
  return (
    <>
      <LayingWork />
      {answer === null ? null : (
        <p className="lead">{answer.lists.roadbed.runs.reduce((sum, { pieces }) => sum + pieces.length, 0)} strips.</p>
      )}
    </>
  )
}
