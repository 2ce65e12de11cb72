import { Suspense, lazy } from 'react'
import type { ReactNode } from 'react'
import type { Id } from '../../core/plan/types.ts'
import { useDesk } from '../desk.ts'
import { Act } from '../particulars/parts.tsx'

// Tables come when they are first asked for.
const BuildSheet = lazy(() => import('./BuildSheet.tsx'))

/** The way from a turnout or crossing to what the bench needs of it. */
export function BuildAct({ of, id }: { readonly of: 'turnout' | 'crossing'; readonly id: Id }): ReactNode {
  const isOpen = useDesk(({ bench }) => bench?.kind === 'build' && bench.id === id)
  const setDesk = useDesk((desk) => desk.set)
  return (
    <>
      <Act onClick={() => setDesk({ bench: { kind: 'build', id: id } })}>Build it</Act>
      {isOpen ? (
        <Suspense fallback={null}>
          <BuildSheet of={of} id={id} onShut={() => setDesk({ bench: null })} />
        </Suspense>
      ) : null}
    </>
  )
}
