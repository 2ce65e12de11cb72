import type { ReactNode } from 'react'
import { useSession } from './context.ts'

/** What the desk has to say, until it is read or the next step is done. */
export function Notice(): ReactNode {
  const notice = useSession((session) => session.notice)
  const setNotice = useSession((session) => session.setNotice)
  return (
    <div aria-live="polite">
      {notice === null ? null : (
        <div className="notice">
          <p>{notice}</p>
          <button type="button" className="word soft" onClick={() => setNotice(null)}>
            Read
          </button>
        </div>
      )}
    </div>
  )
}
