import { Suspense, lazy, useState } from 'react'
import type { ReactNode } from 'react'
import type { Id } from '../../core/plan/types.ts'
import { Act } from './parts.tsx'

// Lines to an open end are solved here: it comes when it is first asked for.
const FitsTable = lazy(() => import('./FitsTable.tsx'))

/** The way to what fits where a turnout stands. */
export function WhatFits({ id }: { readonly id: Id }): ReactNode {
  const [isOpen, setOpen] = useState(false)
  return isOpen ? (
    <Suspense fallback={null}>
      <FitsTable id={id} />
    </Suspense>
  ) : (
    <Act onClick={() => setOpen(true)}>What fits here</Act>
  )
}
