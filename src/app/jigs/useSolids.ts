import { useEffect, useState } from 'react'
import type { Jig } from '../../core/jigs/index.ts'
import type { SolidPiece } from '../../formats/solid/types.ts'
import { useEngine } from '../engine.ts'

/** The pieces of a jig as they come from the engine. */
export type Solids =
  | { readonly kind: 'none' }
  | { readonly kind: 'waiting' }
  | { readonly kind: 'made'; readonly jig: Jig; readonly pieces: readonly SolidPiece[] }
  | { readonly kind: 'failed'; readonly message: string }

/** A held arrow key runs ahead; the kernel is asked when it rests. */
const restMs = 120

export function useSolids(jig: Jig | null): Solids {
  const engine = useEngine()
  const [answer, setAnswer] = useState<{ readonly of: Jig; readonly solids: Solids } | null>(null)
  useEffect(() => {
    if (jig === null) return undefined
    let isWanted = true
    const timer = setTimeout(() => {
      engine.solids(jig).then(
        (pieces) => (isWanted ? setAnswer({ of: jig, solids: { kind: 'made', jig, pieces } }) : undefined),
        (error: unknown) =>
          isWanted
            ? setAnswer({ of: jig, solids: { kind: 'failed', message: error instanceof Error ? error.message : String(error) } })
            : undefined,
      )
    }, restMs)
    return () => {
      isWanted = false
      clearTimeout(timer)
    }
  }, [engine, jig])
  if (jig === null) return { kind: 'none' }
  return answer !== null && answer.of === jig ? answer.solids : { kind: 'waiting' }
}
