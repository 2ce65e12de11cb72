import { useState } from 'react'
import type { Derived } from '../core/pipeline/types.ts'
import { useDerived, usePlan, useStores } from './context.ts'

/**
 * What was derived when the plan last lay still. Lists of all tracks read this: during a drag they would draw every row
 * again with each step, for lengths that nobody reads while the hand moves.
 */
export function useDerivedAtRest(): Derived {
  const stores = useStores()
  const isMoving = usePlan((state) => state.transaction !== null)
  const now = useDerived((state) => (isMoving ? null : state.derived))
  const [held, setHeld] = useState(() => stores.derived.getState().derived)
  if (now !== null && now !== held) setHeld(now)
  return now ?? held
}
