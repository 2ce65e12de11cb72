import { useEffect, useMemo, useRef, useState } from 'react'
import type { TraceAnswer, TraceProgress } from '../../core/alignment/index.ts'
import { useEngine } from '../engine.ts'
import type { Place, Survey } from './survey.ts'

/** What came of a fit, and the places that it was made for. */
export interface Fitted {
  readonly answer: TraceAnswer
  readonly places: readonly Place[]
}

/** What an answer belongs to, by its identity. */
interface Asked {
  readonly request: object
}

export interface Fit {
  readonly fitted: Fitted | null
  /** A fit is under way; null: none. What stands in `fitted` is then of what was asked before. */
  readonly running: { readonly progress: TraceProgress | null } | null
  readonly failed: string | null
  /** Ends what is under way with the best line so far. */
  stop(): void
  again(): void
}

/** A hand that types or clicks goes on sooner than this, ms. */
const restMs = 150

/** Progress is shown no oftener than this, ms: it must not cost more than the work. */
const shownEveryMs = 100

/** Fits anew, in the engine, whenever the places or what is asked of them change. What was under way for others is given up. */
export function useFit({ places, verdicts, toleranceMm, isClosed }: Survey): Fit {
  const engine = useEngine()
  const [round, setRound] = useState(0)
  const request = useMemo(() => ({ places, verdicts, toleranceMm, isClosed, round }), [places, verdicts, toleranceMm, isClosed, round])
  const [fitted, setFitted] = useState<(Fitted & Asked) | null>(null)
  const [failure, setFailure] = useState<({ readonly message: string } & Asked) | null>(null)
  const [heard, setHeard] = useState<({ readonly progress: TraceProgress } & Asked) | null>(null)
  const goesOn = useRef(true)

  useEffect(() => {
    if (request.places.length === 0) return undefined
    let isAsked = true
    let shownMs = 0
    const onProgress = (progress: TraceProgress): boolean => {
      if (!isAsked) return false
      const nowMs = performance.now()
      if (nowMs - shownMs >= shownEveryMs) {
        shownMs = nowMs
        setHeard({ request, progress })
      }
      return goesOn.current
    }
    const begin = (): void => {
      goesOn.current = true
      const points = request.places.map(({ x, y }) => ({ x, y }))
      engine.trace(points, { toleranceMm: request.toleranceMm, isClosed: request.isClosed, verdicts: request.verdicts }, onProgress).then(
        (answer) => {
          if (isAsked) setFitted({ request, answer, places: request.places })
        },
        (error: unknown) => {
          if (isAsked) setFailure({ request, message: error instanceof Error ? error.message : String(error) })
        },
      )
    }
    const timer = setTimeout(begin, restMs)
    return () => {
      isAsked = false
      clearTimeout(timer)
    }
  }, [engine, request])

  const failed = failure?.request === request ? failure.message : null
  const isRunning = places.length > 0 && fitted?.request !== request && failed === null
  return {
    fitted: places.length === 0 ? null : fitted,
    running: isRunning ? { progress: heard?.request === request ? heard.progress : null } : null,
    failed,
    stop: () => {
      goesOn.current = false
    },
    again: () => setRound(round + 1),
  }
}
