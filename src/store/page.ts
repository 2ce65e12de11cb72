/**
 * Calls `flush` when the person leaves the page or turns away from it: the last moments in which a browser, on a tablet above all, surely
 * still runs what we ask. What cannot be kept would be lost then: the browser asks first whether to leave. Gives back what stops watching.
 */
export function leaveWatch(page: Window, flush: () => void, isUnkept: () => boolean): () => void {
  const whenHidden = (): void => {
    if (page.document.visibilityState === 'hidden') flush()
  }
  const askFirst = (event: BeforeUnloadEvent): void => {
    if (isUnkept()) event.preventDefault()
  }
  page.addEventListener('pagehide', flush)
  page.addEventListener('beforeunload', askFirst)
  page.document.addEventListener('visibilitychange', whenHidden)
  return () => {
    page.removeEventListener('pagehide', flush)
    page.removeEventListener('beforeunload', askFirst)
    page.document.removeEventListener('visibilitychange', whenHidden)
  }
}
