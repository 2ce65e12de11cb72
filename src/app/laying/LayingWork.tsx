import type { ReactNode } from 'react'
import { useLaying, usePlan } from '../context.ts'
import { Act } from '../particulars/acts.tsx'

/** How far the lists are: being made, with a way to end the search; failed, with a way to try again; or of an older plan. */
export function LayingWork(): ReactNode {
  const work = useLaying((laying) => laying.work)
  const stop = useLaying((laying) => laying.stop)
  const again = useLaying((laying) => laying.again)
  const answerFor = useLaying((laying) => laying.answerFor)
  const isOld = usePlan(({ committed }) => answerFor !== null && committed !== answerFor)
  switch (work.kind) {
    case 'working':
      return (
        <div className="laying-work" role="status">
          <p>{work.progress.kind === 'derive' ? 'Working out rails, ties and roadbed.' : 'Putting the pieces on sticks.'}</p>
          {work.progress.kind === 'cut' ? <Act onClick={stop}>Stop with the best so far</Act> : null}
        </div>
      )
    case 'failed':
      return (
        <div className="laying-work" role="alert">
          <p>{work.message} What is listed is as it was.</p>
          <Act onClick={again}>Try again</Act>
        </div>
      )
    case 'rest':
      return isOld ? <p role="status">Of the plan as it was a moment ago.</p> : null
  }
}
