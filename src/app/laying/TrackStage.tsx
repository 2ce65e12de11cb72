import type { ReactNode } from 'react'
import { useLaying } from '../context.ts'
import { LayingWork } from './LayingWork.tsx'

/** What rails and ties to cut, and in which order they are laid. */
export default function TrackStage(): ReactNode {
  const answer = useLaying((laying) => laying.answer)
  return (
    <>
      <LayingWork />
      {answer === null ? null : <p className="lead">{answer.lists.rails.pieces.length} pieces of rail.</p>}
    </>
  )
}
