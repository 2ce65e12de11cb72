import { useEffect } from 'react'
import type { RefObject } from 'react'

/**
 * Keeps the keyboard in a column whose contents change under it. When the control that had the focus is taken out of the page, the
 * browser lets the focus fall back to the whole page and the next Tab starts at its top; here the column itself takes it instead.
 */
export function useFocusKept(column: RefObject<HTMLElement | null>): void {
  useEffect(() => {
    const element = column.current
    if (element === null) return undefined
    let holder: Element | null = null
    const note = ({ target }: FocusEvent): void => {
      holder = target instanceof Element && element.contains(target) ? target : null
    }
    const observer = new MutationObserver(() => {
      if (holder === null || holder.isConnected) return
      holder = null
      if (document.activeElement === document.body) element.focus({ preventScroll: true })
    })
    document.addEventListener('focusin', note)
    observer.observe(element, { childList: true, subtree: true })
    return () => {
      document.removeEventListener('focusin', note)
      observer.disconnect()
    }
  }, [column])
}
