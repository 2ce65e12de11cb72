import { useEffect } from 'react'

/** Frames after which a sheet that was shut has given the focus back, if it does so by itself. */
const framesToWait = 2

/**
 * Keeps the keyboard where the hand was. When the control that had the focus is taken out of the page or can be pressed no more, the
 * browser lets the focus fall back to the whole page and the next Tab starts at its top; here what it stood in takes it instead, if
 * that can be focused, and after a sheet or a menu the place on the desk that was left for it. A button that rests while it is at work
 * gets it back.
 */
export function useFocusKept(): void {
  useEffect(() => {
    /** What has the focus and all that it stands in, from the inside out. */
    let now: readonly HTMLElement[] = []
    /** The same of what had it last on the desk, beneath sheets and menus. */
    let onDesk: readonly HTMLElement[] = []
    let frame = 0

    // Only what stands round the focus is watched, not the whole page: a drawing changes at every step of a drag.
    const observer = new MutationObserver(() => {
      const [holder, ...around] = now
      if (holder === undefined || (holder.isConnected && !holder.matches(':disabled'))) return
      if (!isNowhere() && document.activeElement !== holder) return
      const keeper = focusFirst(around)
      if (keeper === null) whenLeftAlone(framesToWait)
      else if (holder.isConnected) giveBack(holder, keeper)
    })
    const returns = new MutationObserver(() => givesBack())
    let givesBack = (): void => undefined
    const giveBack = (holder: HTMLElement, keeper: HTMLElement): void => {
      returns.disconnect()
      returns.observe(holder, { attributes: true, attributeFilter: ['disabled'] })
      givesBack = () => {
        if (!holder.matches(':disabled') && document.activeElement === keeper) holder.focus({ preventScroll: true })
      }
    }
    const whenLeftAlone = (frames: number): void => {
      cancelAnimationFrame(frame)
      frame = requestAnimationFrame(() => {
        if (!isNowhere()) return
        if (frames > 0) whenLeftAlone(frames - 1)
        else focusFirst([...onDesk, ...placesOpen()])
      })
    }
    const note = ({ target }: FocusEvent): void => {
      if (!(target instanceof HTMLElement)) return
      now = withAllAround(target)
      if (target.closest('.desk') !== null) onDesk = now
      observer.disconnect()
      observer.observe(target, { attributes: true, attributeFilter: ['disabled'] })
      for (const one of now.slice(1)) observer.observe(one, { childList: true })
    }
    /** On a narrow screen what had the focus may have gone out of sight with its drawer. */
    const noteLeft = (event: FocusEvent): void => {
      const left = event.target
      if (event.relatedTarget === null && left instanceof HTMLElement && left.isConnected && !left.checkVisibility()) whenLeftAlone(0)
    }
    document.addEventListener('focusin', note)
    document.addEventListener('focusout', noteLeft)
    return () => {
      document.removeEventListener('focusin', note)
      document.removeEventListener('focusout', noteLeft)
      observer.disconnect()
      returns.disconnect()
      cancelAnimationFrame(frame)
    }
  }, [])
}

const isNowhere = (): boolean => document.activeElement === null || document.activeElement === document.body

/** Where the hand goes on when what it left is gone: the drawer that is up, else the plan or what lies in its place. */
const placesOpen = (): readonly HTMLElement[] =>
  ['[data-drawer="stage"] .stage-body', '[data-drawer="particulars"] .right', '[data-drawer="chart"] .below', '.canvas', 'main'].flatMap(
    (place) => [...document.querySelectorAll<HTMLElement>(place)],
  )

function withAllAround(target: HTMLElement): readonly HTMLElement[] {
  const all: HTMLElement[] = []
  for (let one: HTMLElement | null = target; one !== null; one = one.parentElement) all.push(one)
  return all
}

/** Gives the focus to the first that takes it; what is hidden or cannot be pressed refuses. null: none of them does. */
function focusFirst(places: readonly HTMLElement[]): HTMLElement | null {
  for (const place of places) {
    if (!place.isConnected || place === document.body) continue
    place.focus({ preventScroll: true })
    if (document.activeElement === place) return place
  }
  return null
}
