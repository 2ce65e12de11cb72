import { Suspense, lazy, useState } from 'react'
import type { ReactNode } from 'react'
import type { Id } from '../../core/plan/types.ts'
import { Act } from '../particulars/parts.tsx'

// Tables and figures come when they are first asked for.
const SetoutSheet = lazy(() => import('./SetoutSheet.tsx'))

/** The way from a track to its tables for the bench. */
export function SetoutAct({ track }: { readonly track: Id }): ReactNode {
  const [isOpen, setOpen] = useState(false)
  return (
    <>
      <Act onClick={() => setOpen(true)}>Set out at the bench</Act>
      {isOpen ? (
        <Suspense fallback={null}>
          <SetoutSheet track={track} onShut={() => setOpen(false)} />
        </Suspense>
      ) : null}
    </>
  )
}
