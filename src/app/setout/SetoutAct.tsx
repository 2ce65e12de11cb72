import { Suspense, lazy } from 'react'
import type { ReactNode } from 'react'
import type { Id } from '../../core/plan/types.ts'
import { useDesk } from '../desk.ts'
import { Act } from '../particulars/parts.tsx'

// Tables and figures come when they are first asked for.
const SetoutSheet = lazy(() => import('./SetoutSheet.tsx'))

/** The way from a track to its tables for the bench. */
export function SetoutAct({ track }: { readonly track: Id }): ReactNode {
  const isOpen = useDesk(({ bench }) => bench?.kind === 'setout' && bench.id === track)
  const setDesk = useDesk((desk) => desk.set)
  return (
    <>
      <Act onClick={() => setDesk({ bench: { kind: 'setout', id: track } })}>Set out at the bench</Act>
      {isOpen ? (
        <Suspense fallback={null}>
          <SetoutSheet track={track} onShut={() => setDesk({ bench: null })} />
        </Suspense>
      ) : null}
    </>
  )
}
