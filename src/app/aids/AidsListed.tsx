import { lazy, Suspense } from 'react'
import type { ReactNode } from 'react'
import { planHasAny } from '../../core/plan/index.ts'
import { usePlan } from '../context.ts'

// Few plans have any.
const AidLists = lazy(() => import('./AidLists.tsx'))

/** Guides and pinned measurements beside the plan, where there are any. */
export function AidsListed(): ReactNode {
  const hasAny = usePlan(({ committed }) => planHasAny(committed, 'guides') || planHasAny(committed, 'readings'))
  return hasAny ? (
    <Suspense fallback={null}>
      <AidLists />
    </Suspense>
  ) : null
}
