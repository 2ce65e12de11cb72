import { useEffect } from 'react'
import type { ReactNode } from 'react'
import { useSession, useStores } from './context.ts'

/** What the desk has to say, until it is read or the next step is done. */
export function Notice(): ReactNode {
  const notice = useSession((session) => session.notice)
  const setNotice = useSession((session) => session.setNotice)
  const stores = useStores()
  // The next step that works answers it.
  useEffect(
    () => stores.plan.subscribe((state, before) => (state.undoStack.length > before.undoStack.length ? setNotice(null) : undefined)),
    [stores, setNotice],
  )
  return (
    <div aria-live="polite">
      {notice === null ? null : (
        <div className="notice">
          <p>{notice}</p>
          <button type="button" className="word soft" onClick={() => setNotice(null)}>
            Close
          </button>
        </div>
      )}
    </div>
  )
}
