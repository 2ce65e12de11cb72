import type { ReactNode } from 'react'
import { usePlan, useStores } from './context.ts'
import { useDesk } from './desk.ts'
import { lowerFirst } from './commands/actions.ts'

/** The last line of the desk: kept when, what undo takes back, and how to find the rest. */
export function Foot(): ReactNode {
  const stores = useStores()
  const undoLabel = usePlan((state) => state.undoStack.at(-1)?.label ?? null)
  const redoLabel = usePlan((state) => state.redoStack.at(-1)?.label ?? null)
  const setDesk = useDesk((desk) => desk.set)
  return (
    <div className="foot">
      <Kept />
      <button type="button" disabled={undoLabel === null} onClick={() => stores.plan.getState().undo()} title={undoLabel ?? undefined}>
        {undoLabel === null ? 'Nothing to undo' : `Undo: ${lowerFirst(undoLabel)}`}
      </button>
      {redoLabel === null ? null : (
        <button type="button" onClick={() => stores.plan.getState().redo()} title={redoLabel}>
          Redo: {lowerFirst(redoLabel)}
        </button>
      )}
      <button type="button" className="find" onClick={() => setDesk({ dialog: 'finder' })}>
        <b aria-hidden="true">/</b>find any action
      </button>
    </div>
  )
}

function Kept(): ReactNode {
  const keptAt = useDesk((desk) => desk.keptAt)
  const problem = useDesk((desk) => desk.keepProblem)
  if (problem !== null) {
    return (
      <p className="not-kept" role="status">
        Not kept here: {problem}
      </p>
    )
  }
  return <p role="status">{keptAt === null ? 'Kept here as you work' : `Kept at ${clockText(keptAt)}, here`}</p>
}

function clockText(at: Date): string {
  return `${String(at.getHours()).padStart(2, '0')}:${String(at.getMinutes()).padStart(2, '0')}`
}
