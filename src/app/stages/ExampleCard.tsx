import type { ReactNode } from 'react'
import { usePlan } from '../context.ts'
import { useDesk } from '../desk.ts'

/** True while the demo railway lies on the desk as it was fetched. */
export function useIsExample(): boolean {
  const example = useDesk((desk) => desk.example)
  return usePlan((state) => state.committed === example)
}

/** On the first visit: what lies on the desk, that nothing of it can be spoilt, and how one's own railway begins. */
export function ExampleCard(): ReactNode {
  const isExample = useIsExample()
  const setDesk = useDesk((desk) => desk.set)
  if (!isExample) return null
  return (
    <div className="example">
      <p>An invented railway with a few faults, to look through and to try things on. The words above are the work, in its order.</p>
      <button type="button" className="act is-main" onClick={() => setDesk({ dialog: 'newRoom' })}>
        Begin a room of your own
      </button>
    </div>
  )
}
