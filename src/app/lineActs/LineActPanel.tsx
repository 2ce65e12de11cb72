import type { ReactNode } from 'react'
import { useDesk } from '../desk.ts'
import type { LineAct } from '../desk.ts'
import { Act } from '../particulars/parts.tsx'
import { JoinPanel } from './JoinPanel.tsx'
import './lineActs.css'

/** What is done to a line, in place of the particulars, until it is done or given up. */
export default function LineActPanel({ act }: { readonly act: LineAct }): ReactNode {
  const setDesk = useDesk((desk) => desk.set)
  const shut = (): void => setDesk({ lineAct: null, trial: null })
  return (
    <>
      <JoinPanel from={act.from} onShut={shut} />
      <div className="acts is-column">
        <Act onClick={shut}>Close</Act>
      </div>
    </>
  )
}
