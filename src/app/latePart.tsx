import { useEffect, useState } from 'react'
import type { ComponentType, ReactNode } from 'react'
import { late } from '../store/index.ts'

/** A part of the page that `bring` fetches ahead of its first drawing. */
export interface LatePart<P> {
  (props: P): ReactNode
  readonly bring: () => Promise<unknown>
}

/**
 * A part that is no part of the first load. It is fetched once the page without it has been painted, and drawn when it has come; from
 * then on at once, so that nothing blinks. Where the page does not keep its room by itself, `room` names a class of what stands there before it.
 */
export function latePart<P extends object>(load: () => Promise<ComponentType<P>>, room?: string): LatePart<P> {
  const part = late(load)
  function Part(props: P): ReactNode {
    const [, setCome] = useState(false)
    const Now = part.now()
    const isMissing = Now === null
    useEffect(() => {
      if (!isMissing) return undefined
      let isShown = true
      const ask = (): void =>
        void part.bring().then(
          () => isShown && setCome(true),
          // Lost on the way: when there is a network again, it comes.
          () => undefined,
        )
      ask()
      window.addEventListener('online', ask)
      return () => {
        isShown = false
        window.removeEventListener('online', ask)
      }
    }, [isMissing])
    if (Now !== null) return <Now {...props} />
    return room === undefined ? null : <div className={room} />
  }
  return Object.assign(Part, { bring: part.bring })
}
