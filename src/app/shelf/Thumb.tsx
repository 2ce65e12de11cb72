import { useEffect, useState } from 'react'
import type { ReactNode } from 'react'
import type { Plan } from '../../core/plan/types.ts'
import { thumbMake } from './thumb.ts'

/** A small picture of a plan, drawn when the page has a moment: a long shelf opens at once. */
export function Thumb({ plan }: { readonly plan: Plan }): ReactNode {
  const [address, setAddress] = useState<string | null>(null)
  useEffect(() => {
    let made: string | null = null
    const waiting = setTimeout(() => {
      made = thumbMake(plan)
      setAddress(made)
    }, 0)
    return () => {
      clearTimeout(waiting)
      if (made !== null) URL.revokeObjectURL(made)
    }
  }, [plan])
  return address === null ? <span className="thumb" /> : <img className="thumb" src={address} alt="" />
}
