import type { ReactNode } from 'react'
import type { Id } from '../../core/plan/types.ts'
import { useDesk } from '../desk.ts'
import { Act } from '../particulars/parts.tsx'

/** What can be done to a whole line. */
export function TrackLineActs({ track }: { readonly track: Id }): ReactNode {
  const setDesk = useDesk((desk) => desk.set)
  return (
    <>
      <Act onClick={() => setDesk({ lineAct: { kind: 'parallel', track } })}>Lay a parallel…</Act>
      <Act onClick={() => setDesk({ lineAct: { kind: 'ease', track } })}>Ease this line…</Act>
      <Act onClick={() => setDesk({ lineAct: { kind: 'shape', track } })}>Cut, lengthen, turn round…</Act>
    </>
  )
}
