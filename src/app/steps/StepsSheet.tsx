import type { ReactNode } from 'react'
import { Heading } from 'react-aria-components'
import { Sheet } from '../commands/Sheet.tsx'
import { usePlan, useStores } from '../context.ts'
import { useDesk } from '../desk.ts'
import { Act } from '../particulars/acts.tsx'
import './steps.css'

/** Every step that can be taken back or taken again, newest first; a step that is chosen is the last one that stands. */
export default function StepsSheet(): ReactNode {
  const stores = useStores()
  const setDesk = useDesk((desk) => desk.set)
  const done = usePlan((state) => state.undoStack)
  const undone = usePlan((state) => state.redoStack)
  const shut = (): void => setDesk({ dialog: null })
  const steps = [
    ...undone.map(({ label }, i) => ({ label, by: undone.length - i, isUndone: true })),
    ...done.map((_, i) => ({ label: done[done.length - 1 - i]?.label ?? '', by: -i, isUndone: false })),
    { label: done.length + undone.length === 0 ? 'Nothing has been done yet' : 'Before all of these', by: -done.length, isUndone: false },
  ]
  return (
    <Sheet onShut={shut}>
      <Heading slot="title">Steps</Heading>
      <p className="soft small">Choose the last step that shall stand. Those above it can be taken again until you do something else.</p>
      <ol className="steps">
        {steps.map(({ label, by, isUndone }) => (
          <li key={by}>
            <button
              type="button"
              className={isUndone ? 'is-undone' : undefined}
              aria-current={by === 0 ? 'step' : undefined}
              onClick={() => stores.plan.getState().travel(by)}
            >
              {label}
              {by === 0 ? <span className="soft small">as it is</span> : isUndone ? <span className="soft small">undone</span> : null}
            </button>
          </li>
        ))}
      </ol>
      <div className="acts">
        <Act onClick={shut}>Close</Act>
      </div>
    </Sheet>
  )
}
