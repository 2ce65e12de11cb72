/**
 * Takes the Escape key before the desk or the canvas hears of it: what the hand holds is given up, and what is selected stays so. Gives
 * what ends that.
 */
export function escapeTaken(act: () => void): () => void {
  const onKey = (event: KeyboardEvent): void => {
    if (event.key !== 'Escape') return
    event.preventDefault()
    event.stopPropagation()
    act()
  }
  window.addEventListener('keydown', onKey, true)
  return () => window.removeEventListener('keydown', onKey, true)
}

/**
 * As long as a pointer holds something: Escape, the other button and a window that is turned away from give it up. Gives what ends that.
 */
export function handTaken(giveUp: () => void): () => void {
  const onMenu = (event: MouseEvent): void => {
    event.preventDefault()
    event.stopPropagation()
    giveUp()
  }
  const letEscape = escapeTaken(giveUp)
  window.addEventListener('contextmenu', onMenu, true)
  window.addEventListener('blur', giveUp)
  return () => {
    letEscape()
    window.removeEventListener('contextmenu', onMenu, true)
    window.removeEventListener('blur', giveUp)
  }
}
