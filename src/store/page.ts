/**
 * Calls `flush` when the person leaves the page or turns away from it: the last moments in which a browser, on a tablet above all, surely
 * still runs what we ask. Gives back what stops watching.
 */
export function leaveWatch(page: Window, flush: () => void): () => void {
  const whenHidden = (): void => {
    if (page.document.visibilityState === 'hidden') flush()
  }
  page.addEventListener('pagehide', flush)
  page.document.addEventListener('visibilitychange', whenHidden)
  return () => {
    page.removeEventListener('pagehide', flush)
    page.document.removeEventListener('visibilitychange', whenHidden)
  }
}
