import type { KeyboardEvent } from 'react'

/** What a drawing that is a button does with Enter and the space bar. */
export function pressed(act: () => void): (event: KeyboardEvent) => void {
  return (event) => {
    if (event.key !== 'Enter' && event.key !== ' ') return
    event.preventDefault()
    act()
  }
}
