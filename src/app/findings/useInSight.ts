import { useEffect, useRef } from 'react'
import type { RefObject } from 'react'

/** Brings what has opened low down above the edge of what scrolls. */
export function useInSight(): RefObject<HTMLDivElement | null> {
  const place = useRef<HTMLDivElement>(null)
  useEffect(() => {
    // Nothing is handed back: newer browsers answer with a promise, and an effect would call it when it ends.
    void place.current?.scrollIntoView?.({ block: 'nearest' })
  }, [])
  return place
}
