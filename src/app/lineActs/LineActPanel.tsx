import { useEffect } from 'react'
import type { ReactNode } from 'react'
import type { Plan } from '../../core/plan/types.ts'
import { usePlan, useStores } from '../context.ts'
import { useDesk } from '../desk.ts'
import type { LineAct } from '../desk.ts'
import { FitPanel } from '../fit/FitPanel.tsx'
import { Act } from '../particulars/parts.tsx'
import { BesideLegPanel } from './BesideLegPanel.tsx'
import { EasePanel } from './EasePanel.tsx'
import { JoinPanel } from './JoinPanel.tsx'
import { ParallelPanel } from './ParallelPanel.tsx'
import { ShapePanel } from './ShapePanel.tsx'
import './lineActs.css'

/** What is done to a line, in place of the particulars, until it is done or given up. */
export default function LineActPanel({ act }: { readonly act: LineAct }): ReactNode {
  const stores = useStores()
  const setDesk = useDesk((desk) => desk.set)
  const ownTrack = act.kind === 'join' || act.kind === 'fit' ? null : act.track
  // Another track or turnout chosen is another thing to do; a join takes it as its other end, and a fit is about none.
  useEffect(
    () =>
      stores.session.subscribe(({ selection }, before) => {
        if (ownTrack === null || selection === before.selection) return
        const isOther =
          selection.kind === 'record' && (selection.table === 'tracks' ? selection.id !== ownTrack : selection.table === 'turnouts')
        if (isOther) setDesk({ lineAct: null, trial: null })
      }),
    [stores, setDesk, ownTrack],
  )
  const shut = (): void => setDesk({ lineAct: null, trial: null })
  // What it was about has been undone: there is nothing to do here.
  const isGone = usePlan(({ committed }) => !isAbout(act, committed))
  useEffect(() => {
    if (isGone) setDesk({ lineAct: null, trial: null })
  }, [isGone, setDesk])
  return (
    <>
      <Panel act={act} onShut={shut} />
      <div className="acts is-column">
        <Act onClick={shut}>Close</Act>
      </div>
    </>
  )
}

/** Whether what an act is done to is in the plan. */
function isAbout(act: LineAct, plan: Plan): boolean {
  if (act.kind === 'fit') return true
  if (act.kind !== 'join') return plan.tracks[act.track] !== undefined
  return act.from.kind === 'leg' ? plan.turnouts[act.from.turnout] !== undefined : plan.tracks[act.from.track] !== undefined
}

function Panel({ act, onShut }: { readonly act: LineAct; readonly onShut: () => void }): ReactNode {
  switch (act.kind) {
    case 'join':
      return <JoinPanel from={act.from} onShut={onShut} />
    case 'parallel':
      return <ParallelPanel track={act.track} onShut={onShut} />
    case 'beside':
      return <BesideLegPanel track={act.track} onShut={onShut} />
    case 'ease':
      return <EasePanel track={act.track} onShut={onShut} />
    case 'shape':
      return <ShapePanel track={act.track} />
    case 'fit':
      return <FitPanel onShut={onShut} />
  }
}
