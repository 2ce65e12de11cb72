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
