import type { ReactNode } from 'react'
import { useStore } from 'zustand'
import { usePlan, useStores } from './context.ts'
import { useDesk, useDeskStore } from './desk.ts'
import { lowerFirst } from '../words/names.ts'
import { useKeeper } from './keeper.ts'
import { keepText } from './keepText.ts'
import { undoAct, undoWord } from './undoNow.ts'

// Saving a file comes when it is asked for.
const planFiles = (): Promise<typeof import('./file/planFile.ts')> => import('./file/planFile.ts')

/** The last two lines of the desk: kept when and how to find the rest, what undo takes back and redo brings. They never move. */
export function Foot(): ReactNode {
  const stores = useStores()
  const undoLabel = usePlan((state) => state.undoStack.at(-1)?.label ?? null)
  const redoLabel = usePlan((state) => state.redoStack.at(-1)?.label ?? null)
  const desk = useDeskStore()
  const pointBack = useDesk((state) => state.pointBack)
  const setDesk = useDesk((state) => state.set)
  const undoWords = undoWord(pointBack, undoLabel)
  return (
    <div className="desk-foot" role="group" aria-label="Kept, steps, actions" tabIndex={-1}>
      <Newer />
      <div className="foot-line">
        <Kept />
        <button
          type="button"
          className="steps"
          disabled={undoLabel === null && redoLabel === null}
          aria-label="All steps…"
          title="All steps"
          onClick={() => setDesk({ dialog: 'steps' })}
        >
          Steps…
        </button>
        <button type="button" className="find" aria-label="find any action" onClick={() => setDesk({ dialog: 'finder' })}>
          <b aria-hidden="true">/</b>find
        </button>
      </div>
      <div className="foot-line">
        <button type="button" disabled={undoWords === null} onClick={() => undoAct(stores, desk)()} title={undoWords ?? undefined}>
          {undoWords === null ? 'Nothing to undo' : `Undo: ${lowerFirst(undoWords)}`}
        </button>
        <button
          type="button"
          className="redo"
          disabled={redoLabel === null}
          aria-label={redoLabel === null ? 'Nothing to redo' : `Redo: ${lowerFirst(redoLabel)}`}
          onClick={() => stores.plan.getState().redo()}
          title={redoLabel ?? undefined}
        >
          Redo
        </button>
      </div>
    </div>
  )
}

/** A newer build lies ready: it comes when it is asked for, and the plan is kept first. */
function Newer(): ReactNode {
  const update = useDesk((desk) => desk.update)
  return update === null ? null : (
    <p role="status">
      A newer Waybench is ready.{' '}
      <button type="button" className="word" onClick={update}>
        Change to it
      </button>
    </p>
  )
}

function Kept(): ReactNode {
  const stores = useStores()
  const keeper = useKeeper()
  const status = useStore(keeper.status)
  return (
    <p role="status" title={keepText(status)} className={status.kind === 'failed' || status.kind === 'elsewhere' ? 'not-kept' : undefined}>
      {keepText(status)}
      {status.kind === 'elsewhere' ? (
        <>
          {' '}
          <button type="button" className="word" onClick={() => void keeper.takeOver()}>
            Keep it from here
          </button>
          {status.hasOwn ? (
            <>
              {' '}
              <button type="button" className="word" onClick={() => void keeper.follow()}>
                Drop it and show theirs
              </button>
            </>
          ) : null}
        </>
      ) : null}
      {status.kind === 'failed' ? (
        <>
          {' '}
          <button type="button" className="word" onClick={() => void planFiles().then(({ planSave }) => planSave(stores))}>
            Save it now
          </button>
        </>
      ) : null}
    </p>
  )
}
